package wording

import (
	"fmt"
	"slices"
	"strings"

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
	NoneSeals        = "Nothing is sealed yet. Seals are made every few seconds while the service runs."
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
		text += " The seal asked for is not in the chain: check its digits. If they are right, the ledger is not the one it was taken of."
	}
	if c.LeftOut > 0 {
		text += fmt.Sprintf(" Of what does not fit the first %d are listed.", len(c.Faults))
	}
	return text
}

var troubles = map[registry.LedgerTrouble]string{
	registry.SealChanged:    "Seal {seal} was changed: its contents and its hash do not belong together.",
	registry.SealMissing:    "Seal {seal} does not follow the seal before it: one is missing, or the one before was changed.",
	registry.StretchChanged: "Entries that seal {seal} closes were changed or put in another order.",
	registry.EntriesMissing: "Entries that seal {seal} closes are missing.",
	registry.EntriesExtra:   "Where seal {seal} closes there are more entries now than it closed: some were put in afterwards, or the seal before it is gone.",
	registry.EntryChanged:   "Entry {entry} of the ledger, about {row}, was changed or forged: its contents and its hash do not belong together.",
	registry.EntryMisplaced: "Entry {entry} of the ledger, about {row}, lies in a stretch that is closed, but no seal has it.",
	registry.EntryBackdated: "Entry {entry} of the ledger, about {row}, is dated long before the seal that it comes after.",
	registry.EntryAhead:     "Entry {entry} of the ledger, about {row}, claims a transaction that has not begun: it was not entered by the service.",
	registry.EntryUnjoined:  "Entry {entry} of the ledger does not begin where the entry before it about {row} ended{by}: one was forged or taken away, or the row was changed between them behind the ledger's back.",
	registry.SealGone:       "Entry {entry} of the ledger bears witness to seal {seal}, which is gone, or another stands in its place. Seals right after it that are gone too are not listed.",
	registry.WitnessMissing: "No entry of the ledger bears witness to seal {seal}: it was taken away, or the seal was not made by the service.",
	registry.EndCut:         "The newest seal was {seal}, and it is not at the end of the chain: the end of the ledger was cut off or replaced.",
	registry.TipWrong:       "The note of which seal is the newest is missing, or names an earlier one than {seal}: it was taken away or put back.",
	registry.NounUnknown:    "Entry {entry} of the ledger is about {row}, and there is no such table.",
	registry.RowChanged:     "The row of {row} was changed behind the ledger's back: {fields}.",
	registry.RowMissing:     "The row of {row} is missing.",
	registry.RowExtra:       "There is a row of {row} that the ledger does not speak of.",
}

// veiledMember is the member of an entry that stands for what it does not tell;
// the word is that of package ledger.
const veiledMember = "private"

// LedgerFault says what does not fit. It holds no values.
func LedgerFault(f registry.LedgerFault) string {
	row := strings.ReplaceAll(f.Noun, "_", " ")
	if f.RowID != nil {
		row += " " + f.RowID.String()
	}
	names := slices.Clone(f.Fields)
	if i := slices.Index(names, veiledMember); i >= 0 {
		names[i] = "a name or free text that the ledger binds under a salt, or that salt"
	}
	fields := strings.Join(names, ", ")
	by := ""
	if fields != "" {
		by = ", by " + fields
	}
	return strings.NewReplacer(
		"{seal}", SealName(f.Era, f.Number), "{entry}", fmt.Sprint(f.Entry), "{row}", row, "{fields}", fields, "{by}", by,
	).Replace(troubles[f.Trouble])
}

// Entries counts entries of the ledger.
func Entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}
