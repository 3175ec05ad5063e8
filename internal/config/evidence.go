package config

// Evidence prints what the register knew of an anchor on a day.
type Evidence struct {
	Database
	Anchor    string `arg:"" placeholder:"ANCHOR-ID" help:"The anchor's id."`
	AsKnownOn string `required:"" placeholder:"DATE" help:"The day (2006-01-02), not ahead of today; it ends in the group's time zone."`
	Group     string `required:"" placeholder:"SLUG" help:"The anchor's group."`
	Format    string `enum:"text,json" default:"text" help:"text or json."`
}
