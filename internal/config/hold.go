package config

// Landowner has the commands about landowners.
type Landowner struct {
	Erase LandownerErase `cmd:"" help:"Erase a landowner's name and contact for good, and take them out of parcels, agreements and restrictions."`
}

// LandownerErase erases a landowner.
type LandownerErase struct {
	Database
	ID     string `arg:"" help:"The landowner's id."`
	Group  string `required:"" placeholder:"SLUG" help:"The group that knows the landowner."`
	Reason string `required:"" help:"Why, without the name."`
}

// Hold has the commands about legal holds.
type Hold struct {
	Add  HoldAdd  `cmd:"" help:"Suspend erasure; asked for again with the same --id it is the same hold."`
	Lift HoldLift `cmd:"" help:"Lift a hold from today."`
	List HoldList `cmd:"" help:"List the holds, lifted ones too."`
}

// HoldAdd adds a legal hold.
type HoldAdd struct {
	Database
	Group  string `required:"" placeholder:"SLUG" help:"The group."`
	Over   string `required:"" enum:"all,site,anchor,person,landowner" help:"What it is over: all, site, anchor, person or landowner."`
	OverID string `name:"over-id" placeholder:"ID" help:"The id of that; not with all."`
	Reason string `required:"" help:"Why."`
	Until  string `placeholder:"DATE" help:"The last day (default: until it is lifted)."`
	ID     string `name:"id" placeholder:"ID" help:"The hold's own id (default: one is made)."`
}

// HoldLift lifts a legal hold.
type HoldLift struct {
	Database
	ID    string `arg:"" help:"The hold's id."`
	Group string `required:"" placeholder:"SLUG" help:"The group."`
}

// HoldList lists the legal holds of a group.
type HoldList struct {
	Database
	Group string `required:"" placeholder:"SLUG" help:"The group."`
}
