// Package config holds the command line and environment of rockledger, read
// and validated once at the start.
package config

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/alecthomas/kong"
)

// Command is the whole command line. Each field is a subcommand.
type Command struct {
	Demo      Demo      `cmd:"" help:"Start a private database with an invented register and serve it."`
	Serve     Serve     `cmd:"" help:"Serve the register."`
	Ready     Ready     `cmd:"" help:"Ask a running service whether it can answer."`
	Migrate   Migrate   `cmd:"" help:"Bring the database's schema up or down, or say where it stands."`
	Group     Group     `cmd:"" help:"Groups: the tenants of the register."`
	Account   Account   `cmd:"" help:"Accounts: who signs in on the pages."`
	Token     Token     `cmd:"" help:"Tokens: keys to the API."`
	Import    Import    `cmd:"" help:"Take over an anchor list."`
	Export    Export    `cmd:"" help:"Write the anchors as a list that can be taken over again."`
	Report    Report    `cmd:"" help:"Print a report."`
	Person    Person    `cmd:"" help:"Persons: erase a name."`
	Landowner Landowner `cmd:"" help:"Landowners: erase a name and contact."`
	Hold      Hold      `cmd:"" help:"Legal holds, which suspend erasure: add, lift, list."`
	Ledger    Ledger    `cmd:"" help:"The log of changes: prove it, seal it."`
	Trace     Trace     `cmd:"" help:"Say where a batch went."`
	Evidence  Evidence  `cmd:"" help:"Print what was known and shown of an anchor on a day, and what was done after."`

	Bench     Bench     `cmd:"" help:"Measure the register at size in a private throw-away database."`
	Corrosion Corrosion `cmd:"" help:"Estimate how fast a climate eats metal. Needs no database."`
	Mortar    Mortar    `cmd:"" help:"Work out how much mortar holes take. Needs no database."`
}

// Database is where the service works: as a role that row security binds.
type Database struct {
	DatabaseURL string `name:"database-url" env:"ROCKLEDGER_DATABASE_URL" required:"" placeholder:"URL" help:"The database, as role rockledger_app."`
}

// AdminDatabase is where the schema's owner works.
type AdminDatabase struct {
	AdminURL string `name:"admin-url" env:"ROCKLEDGER_ADMIN_URL" required:"" placeholder:"URL" help:"The database, as role rockledger_owner."`
}

// Listen is where the service listens.
type Listen struct {
	Addr string `default:"127.0.0.1:8080" help:"Address to listen on."`
}

// Pictures is where pictures are kept.
type Pictures struct {
	Pictures    string `name:"pictures" env:"ROCKLEDGER_PICTURES" enum:"postgres,folder" default:"postgres" help:"Where pictures are kept: postgres (with everything else) or folder."`
	PicturesDir string `name:"pictures-dir" env:"ROCKLEDGER_PICTURES_DIR" placeholder:"DIR" help:"With --pictures=folder: the folder, which must be there."`
}

// Validate wants a folder where pictures are kept in one, and none otherwise:
// whoever names one expects it to be used.
func (p *Pictures) Validate() error {
	switch {
	case p.Pictures == "folder" && p.PicturesDir == "":
		return errors.New("--pictures=folder wants --pictures-dir (ROCKLEDGER_PICTURES_DIR): name the folder")
	case p.Pictures != "folder" && p.PicturesDir != "":
		return errors.New("--pictures-dir is only used with --pictures=folder (ROCKLEDGER_PICTURES=folder): give both or neither")
	}
	return nil
}

// Demo starts a private database with an invented register. It takes another
// only by its flags: whoever has a real register in the environment must not find
// an invented group in it.
type Demo struct {
	Listen
	Data        string `placeholder:"DIR" help:"Folder for the database (default: /var/lib/rockledger/demo as root, otherwise your data folder)."`
	Print       string `enum:"text,json" default:"text" help:"How to print the address and the keys: text or json."`
	DatabaseURL string `name:"database-url" placeholder:"URL" help:"With --admin-url: use this database instead of a private one, and write there. Not read from the environment."`
	AdminURL    string `name:"admin-url" placeholder:"URL" help:"The same database, as role rockledger_owner. Not read from the environment."`
}

// Serve runs the service.
type Serve struct {
	Listen
	Database
	Pictures     `embed:""`
	RefreshEvery time.Duration `default:"1m" help:"How often to look for assessments that have become stale."`
}

// Migrate changes the schema.
type Migrate struct {
	AdminDatabase
	Direction string `arg:"" enum:"up,down,status" help:"up, down or status."`
	Steps     int    `default:"1" help:"How many migrations to take back with down."`
}

// Group has the commands about groups.
type Group struct {
	Add GroupAdd `cmd:"" help:"Add a group."`
}

// GroupAdd adds a group.
type GroupAdd struct {
	AdminDatabase
	Slug     string `arg:"" help:"Short name for addresses: a-z, 0-9 and hyphens."`
	Name     string `help:"Full name (default: the slug)."`
	TimeZone string `default:"UTC" help:"The group's time zone, such as Europe/London."`
}

// Token has the commands about tokens.
type Token struct {
	Add TokenAdd `cmd:"" help:"Make a token; it is shown once and only its hash is kept."`
}

// TokenAdd makes a token.
type TokenAdd struct {
	AdminDatabase
	Group string `required:"" placeholder:"SLUG" help:"The group it opens."`
	Role  string `required:"" enum:"reader,recorder,steward,owner" help:"What it may do: reader, recorder, steward or owner."`
	Name  string `default:"unnamed" help:"What it is for, to tell it from others."`
}

// Import takes over an anchor list.
type Import struct {
	Database
	File    string `arg:"" optional:"" type:"existingfile" help:"The list: CSV with comma, semicolon or tab."`
	Group   string `required:"" placeholder:"SLUG" help:"The group that takes it over."`
	Columns string `type:"existingfile" placeholder:"MAP.yaml" help:"Which heading is which field, where the guess is wrong."`
	DryRun  bool   `help:"Say what would happen and enter nothing."`
	Undo    string `placeholder:"ID" help:"Take the import of this id back instead, while nothing was recorded on its anchors since."`
	Format  string `enum:"text,json" default:"text" help:"text or json."`
}

// Parse reads args (without the program's name) into a Command and returns the
// subcommand's name, such as "token add". Help is written through options.
func Parse(args []string, options ...kong.Option) (*Command, string, error) {
	var c Command
	all := append([]kong.Option{
		kong.Name("rockledger"),
		kong.Description("A register of fixed anchors in crags and caves: what is in every hole, and when to look at it again."),
		kong.UsageOnError(),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
	}, options...)
	parser, err := kong.New(&c, all...)
	if err != nil {
		return nil, "", err
	}
	parsed, err := parser.Parse(args)
	if err != nil {
		return nil, "", namingEnvironment(err)
	}
	return &c, name(parsed), empty(parsed)
}

// empty refuses a setting that is needed and given as nothing, as by a variable
// that was exported without a value: a database named by nothing is the one that
// happens to be on this machine.
func empty(parsed *kong.Context) error {
	for _, f := range parsed.Flags() {
		if f.Required && len(f.Envs) > 0 && f.Target.String() == "" {
			return fmt.Errorf("--%s is empty: give it, or set %s in the environment to more than nothing", f.Name, f.Envs[0])
		}
	}
	return nil
}

// namingEnvironment adds to an error about flags the variables that can be set
// in place of those that are missing.
func namingEnvironment(err error) error {
	var wrong *kong.ParseError
	if !errors.As(err, &wrong) || wrong.Context == nil {
		return err
	}
	for _, f := range wrong.Context.Flags() {
		if f.Required && len(f.Envs) > 0 && strings.Contains(err.Error(), "--"+f.Name+"=") {
			err = fmt.Errorf("%w (--%s can also be given in the environment, as %s)", err, f.Name, f.Envs[0])
		}
	}
	return err
}

// name joins the command words, without the placeholders of arguments.
func name(parsed *kong.Context) string {
	out := ""
	for _, p := range parsed.Path {
		if p.Command != nil {
			if out != "" {
				out += " "
			}
			out += p.Command.Name
		}
	}
	return out
}
