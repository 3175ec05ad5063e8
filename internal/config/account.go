package config

// Account has the commands about who signs in on the pages.
type Account struct {
	Add      AccountAdd      `cmd:"" help:"Make an account for a group; its password is shown once and only its hash is kept."`
	List     AccountList     `cmd:"" help:"List who can sign in to a group, and as what."`
	Role     AccountRole     `cmd:"" help:"Give a member of a group another role."`
	Password AccountPassword `cmd:"" help:"Set a new password, shown once; whoever was signed in with the old one is signed out."`
	Remove   AccountRemove   `cmd:"" help:"End a membership at once; an account that is left without a group goes."`
}

// Password is where a new password comes from. It is no flag of its own: a
// command line is seen by others on the machine and kept in its history.
type Password struct {
	Stdin bool `name:"password-stdin" help:"Read the password from standard input, at least 12 characters on one line (default: one is made and shown)."`
}

// AccountAdd makes an account, or lets one that is there into another group.
type AccountAdd struct {
	AdminDatabase
	Password `embed:""`
	Email    string `arg:"" help:"The e-mail address to sign in with."`
	Group    string `required:"" placeholder:"SLUG" help:"The group it opens."`
	Role     string `required:"" enum:"reader,recorder,steward,owner" help:"What it may do: reader, recorder, steward or owner."`
	Name     string `help:"Name, which evidence gives beside what was entered (default: the address up to its @)."`
}

// AccountList lists the members of a group.
type AccountList struct {
	AdminDatabase
	Group string `required:"" placeholder:"SLUG" help:"The group."`
}

// AccountRole changes a member's role.
type AccountRole struct {
	AdminDatabase
	Email string `arg:"" help:"The e-mail address of the account."`
	Group string `required:"" placeholder:"SLUG" help:"The group."`
	Role  string `required:"" enum:"reader,recorder,steward,owner" help:"What it may do from now on: reader, recorder, steward or owner."`
}

// AccountPassword sets a new password.
type AccountPassword struct {
	AdminDatabase
	Password `embed:""`
	Email    string `arg:"" help:"The e-mail address of the account."`
}

// AccountRemove ends a membership.
type AccountRemove struct {
	AdminDatabase
	Email string `arg:"" help:"The e-mail address of the account."`
	Group string `required:"" placeholder:"SLUG" help:"The group it is to open no longer."`
}
