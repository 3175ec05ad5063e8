package registry

import "time"

// RulesVersion is one version of a group's house rules.
type RulesVersion struct {
	Version int
	Since   time.Time
	Who     string // as Actor.Who; blank: the ledger does not say
	Name    string // of that member or token; blank: none any more, or neither
	Text    []byte // the rules as JSON, as they were stored
}
