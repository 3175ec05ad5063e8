package wording

import (
	"fmt"

	"rockledger/internal/registry"
)

// Sentences of the ledger's page and of what verifying it finds.
const (
	LedgerHelp = "Every change is entered in the ledger, and what is entered is sealed: a seal is a hash over the entries since the seal before, and over that seal. " +
		"Keep one on paper, and the ledger can be proved against it later."
	LedgerProveHelp = "The digits of a seal on paper, 16 or more. Left empty, the ledger is proved against itself and its tables: " +
		"that does not show what somebody with the database's owner's rights rewrote throughout, or a cut-off end with all that tells of it. Only a seal on paper does."
	OwnerErased      = "The landowner’s name and contact are erased."
	OwnerNotSearched = "Notes of sites, positions and anchors, other words than the landowner’s own name and numbers, what imported lists said, what entries of the ledger from before version 29 of the schema tell of conditions and reasons, and backups were not searched: look there yourself."
	PersonErased     = "The name is erased, and records go on naming the person by id. Free text, what imported lists said and accounts were not searched for it: look there yourself."
	LedgerNotProved  = "Not proved against the ledger: standings and dates worked out (they can be worked out anew), the bytes of pictures, imports in hand, accounts, secrets of tokens and web sessions."
	// LedgerFirst is what to do where a ledger does not hold, before anything else:
	// whoever repairs first destroys what would tell what happened.
	LedgerFirst = "What to do first: leave the database as it is, repair and restore nothing in it, and take a copy of it to keep apart. " +
		"Tell the owners of the group and whoever runs the server. Ask who has the rights of the database's owner, and whether it was restored or changed by hand. " +
		"Then compare with the last seal on paper, and with the newest backup from before. " +
		"Until it is settled, of an anchor that is concerned go by what you see at the rock and by the graver of what is said."
	NoneSeals = "Nothing is sealed yet. Seals are made every few seconds while the service runs."
)

// SealName names a seal: "2.15", its era and number.
func SealName(era, number int) string { return fmt.Sprintf("%d.%d", era, number) }

// NewestSeal is what a report prints of the newest seal.
func NewestSeal(s registry.Seal) string {
	return fmt.Sprintf("Newest seal of the register: %s of %s, %s", SealName(s.Era, s.Number), s.At.UTC().Format("2 January 2006 15:04 UTC"), s.Hash)
}

// SealLag says what waits to be sealed.
func SealLag(l registry.SealLag) string {
	if l.Entries == 0 || l.Since == nil {
		return "Nothing waits to be sealed."
	}
	return fmt.Sprintf("%s to be sealed, the oldest since %s.", waiting(l.Entries), l.Since.UTC().Format("2 January 2006 15:04:05 UTC"))
}

func waiting(n int) string {
	if n == 1 {
		return "1 entry waits"
	}
	return fmt.Sprintf("%d entries wait", n)
}

// LedgerCheck sums up what verifying found.
func LedgerCheck(c registry.LedgerCheck) string {
	text := count(c.Seals, "seal", "seals") + ", " + count(c.Entries, "entry", "entries") + ", " + waiting(c.Unsealed) + " to be sealed."
	switch n := len(c.Faults) + c.LeftOut; {
	case n == 1:
		text += " 1 thing does not fit."
	case n > 1:
		text += fmt.Sprintf(" %d things do not fit.", n)
	default:
		text += " Everything fits."
	}
	if c.Found != nil {
		text += fmt.Sprintf(" The seal asked for is in the chain: %s of %s.", SealName(c.Found.Era, c.Found.Number), c.Found.At.UTC().Format("2 January 2006 15:04 UTC"))
	} else if c.Asked != "" {
		text += " The seal asked for is not in the chain: check its digits, and that it is this group's. If they are right, the ledger is not the one it was taken of."
	}
	if c.LeftOut > 0 {
		text += fmt.Sprintf(" Of what does not fit the first %d are listed.", len(c.Faults))
	}
	return text
}

// Entries counts entries of the ledger.
func Entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}
