package exchange

import (
	"bytes"
	"fmt"
	"io"
	"strconv"

	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// WriteMortarText writes an estimate of mortar for a terminal: a line for holes
// that are alike, the sum, what to know of it, and the caution.
func WriteMortarText(w io.Writer, m report.Mortar) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s\n\n", wording.MortarHelp)
	rows := [][]string{{"HOLES", "ONE KEEPS, mL", "INJECT INTO ONE, mL", "HOLES OF A CARTRIDGE"}}
	for _, l := range m.Holes {
		rows = append(rows, []string{
			strconv.Itoa(l.Holes), fmt.Sprintf("%.3f", l.NetML), fmt.Sprintf("%.3f", l.VolumeML), strconv.Itoa(l.PerCartridge),
		})
	}
	align(&b, "", rows)
	fmt.Fprintf(&b, "\nIn all %.1f mL with waste %s: %s of %s mL, %s mL thrown away with each nozzle.\n",
		m.VolumeML, figure(m.Waste), wording.Cartridges(m.Cartridges), figure(m.CartridgeML), figure(m.PurgeML))
	if len(m.Notes) > 0 {
		b.WriteString("\nTo know:\n")
		for _, n := range m.Notes {
			fmt.Fprintf(&b, "  %s\n", wording.MortarNote(n.Code, n.Values))
		}
	}
	fmt.Fprintf(&b, "\nSource: %s\n\n%s\n", wording.MortarSource, wording.Caution)
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write estimate of mortar: %w", err)
	}
	return nil
}
