package config

// Report has a command for each report.
type Report struct {
	Overdue Overdue `cmd:"" help:"What is late or awaits its first round."`
	Suspect Suspect `cmd:"" help:"What is out of use or suspect, with every finding."`
	Work    Work    `cmd:"" help:"What to replace or repair, by urgency, and what to bring."`
	Land    Land    `cmd:"" help:"For a landowner: known problems, work done, agreements and restrictions."`
}

// ReportOptions are what every report asks for.
type ReportOptions struct {
	Database
	Group  string `required:"" placeholder:"SLUG" help:"The group reported on."`
	Format string `enum:"table,csv,json" default:"table" help:"table, csv or json."`
}

// AsOf asks for another day than today.
type AsOf struct {
	AsOf string `placeholder:"DATE" help:"Recompute for this day (2006-01-02); records and anchors as of that day, inventory and house rules as they stand today."`
}

// Overdue prints what is late or awaits its first round.
type Overdue struct {
	ReportOptions
	AsOf
}

// Suspect prints what is out of use or suspect.
type Suspect struct {
	ReportOptions
	AsOf
}

// Work prints what to replace or repair.
type Work struct {
	ReportOptions
	AsOf
}

// Land prints what a landowner may want to know.
type Land struct {
	ReportOptions
	Landowner string `placeholder:"NAME" help:"Only this landowner, by name or id (default: all)."`
	From      string `placeholder:"DATE" help:"First day of the period (2006-01-02; default: a year before its end)."`
	To        string `placeholder:"DATE" help:"Last day of the period (default: today)."`
	Detail    bool   `help:"Anchor by anchor."`
}
