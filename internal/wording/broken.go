package wording

import "fmt"

// BrokenOff says that a command was stopped before it was done.
const BrokenOff = "Broken off before it was done. What was printed so far is not whole; give the command again."

// ImportBrokenOff says how far a long list came that was broken off.
func ImportBrokenOff(done, rows int) string {
	return fmt.Sprintf("Broken off: %d of %d rows are read into the register and stay there. "+
		"The list goes on where it stopped when the same command is given again, or by itself where the service runs.", done, rows)
}
