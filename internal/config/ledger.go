package config

// Ledger has the commands about the log of changes.
type Ledger struct {
	Verify LedgerVerify `cmd:"" help:"Go over seals, entries and tables and name what was changed behind the ledger's back."`
	Seal   LedgerSeal   `cmd:"" help:"Seal what is entered, as the service does every few seconds."`
	NewEra LedgerNewEra `cmd:"" help:"Begin a new era, after a restore that deploy/restore.sh did not do."`
}

// LedgerVerify verifies the ledger of one group or of all.
type LedgerVerify struct {
	Database
	Group  string `placeholder:"SLUG" help:"Only this group (default: all)."`
	Seal   string `placeholder:"HASH" help:"Ask too whether a seal is in the chain: its hash or the first 16 digits or more."`
	Format string `enum:"text,json" default:"text" help:"text or json."`
}

// LedgerSeal seals the ledgers.
type LedgerSeal struct {
	Database
}

// LedgerNewEra begins a new era.
type LedgerNewEra struct {
	AdminDatabase
	Why string `default:"restored" help:"Why, for those who read it later."`
}
