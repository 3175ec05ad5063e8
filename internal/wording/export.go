package wording

// Sentences about the register as a list.
const (
	ExportHelp = "Every anchor, removed ones too, as a table for a spreadsheet. Changed there, it can be read in again as a corrected list; " +
		"what the register says by then comes first, and what clashes is shown."
	ExportOurs    = "Download it with our headings (CSV)"
	ExportOwn     = "Download it with the headings of the latest list (CSV)"
	ExportThisOwn = "Download it with the headings of this list (CSV)"
)
