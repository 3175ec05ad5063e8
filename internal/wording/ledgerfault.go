package wording

import (
	"fmt"
	"slices"
	"strings"

	"rockledger/internal/registry"
)

// troubles say what does not fit and, beside LedgerFirst, what to do about it.
var troubles = map[registry.LedgerTrouble]struct{ what, do string }{
	registry.SealChanged: {
		"Seal {seal} was changed: its contents and its hash do not belong together.",
		"Compare its digits with the seal on paper, and with the same seal in a backup from before.",
	},
	registry.SealMissing: {
		"Seal {seal} does not follow the seal before it: one is missing, or the one before was changed.",
		"Look for the seals around it on paper and in backups: the newest backup that has them shows what has gone.",
	},
	registry.StretchChanged: {
		"Entries that seal {seal} closes were changed or put in another order.",
		"Compare these entries with those of a backup made after that seal, which shows what was changed.",
	},
	registry.EntriesMissing: {
		"Entries that seal {seal} closes are missing.",
		"Look for them in a backup made after that seal.",
	},
	registry.EntriesExtra: {
		"Where seal {seal} closes there are more entries now than it closed: some were put in afterwards, or the seal before it is gone.",
		"Compare with a backup made after that seal: what it does not have was put in later. Do not rely on that before somebody says how it got there.",
	},
	registry.EntryChanged: {
		"Entry {entry} of the ledger, about {row}, was changed or forged: its contents and its hash do not belong together.",
		"Compare it with the same entry in a backup from before, and ask whoever is named in it what they recorded.",
	},
	registry.EntryMisplaced: {
		"Entry {entry} of the ledger, about {row}, lies in a stretch that is closed, but no seal has it.",
		"Look for it in a backup made after that stretch was closed: if it is not there, it was put in later. Do not rely on what it says.",
	},
	registry.EntryBackdated: {
		"Entry {entry} of the ledger, about {row}, is dated long before the seal that it comes after.",
		"Ask whoever is named in it whether they recorded this, and when. Do not rely on it before they say so.",
	},
	registry.EntryAhead: {
		"Entry {entry} of the ledger, about {row}, claims a transaction that has not begun: it was not entered by the service.",
		"Ask whoever runs the server whether the database was moved or restored. If not, do not rely on what the entry says.",
	},
	registry.EntryUnjoined: {
		"Entry {entry} of the ledger does not begin where the entry before it about {row} ended{by}: one was forged or taken away, or the row was changed between them behind the ledger's back.",
		"Compare the entries about it with those in a backup from before, and ask those named in them what they recorded.",
	},
	registry.SealGone: {
		"Entry {entry} of the ledger bears witness to seal {seal}, which is gone, or another stands in its place. Seals right after it that are gone too are not listed.",
		"Look for it on paper and in backups: the newest backup that has it shows what has gone since.",
	},
	registry.WitnessMissing: {
		"No entry of the ledger bears witness to seal {seal}: it was taken away, or the seal was not made by the service.",
		"Ask whoever runs the server whether anything was taken away by hand, and compare with a backup made after that seal.",
	},
	registry.EndCut: {
		"The newest seal was {seal}, and it is not at the end of the chain: the end of the ledger was cut off or replaced.",
		"Look for what came after it in the newest backup, on paper, and with those who recorded last.",
	},
	registry.TipWrong: {
		"The note of which seal is the newest is missing, or names an earlier one than {seal}: it was taken away or put back.",
		"Compare the newest seal here with the newest on paper: if that one is later, the end of the ledger was cut off.",
	},
	registry.NounUnknown: {
		"Entry {entry} of the ledger is about {row}, and there is no such table.",
		"Ask whoever runs the server whether this program is of the version that the database was migrated by. If it is, the service did not make this entry.",
	},
	registry.RowChanged: {
		"The row of {row} was changed behind the ledger's back: {fields}.",
		"What the ledger says is what was recorded: look it up in the evidence or in a backup from before, and ask who changed the row.",
	},
	registry.RowMissing: {
		"The row of {row} is missing.",
		"Look for it in a backup from before. Its entries in the ledger say what it was about and who recorded it: ask them.",
	},
	registry.RowExtra: {
		"There is a row of {row} that the ledger does not speak of.",
		"Nobody recorded it through this register: do not rely on it, and ask who put it in.",
	},
}

// veiledMember is the member of an entry that stands for what it does not tell;
// the word is that of package ledger.
const veiledMember = "private"

// LedgerFault says what does not fit and what to do about it. It holds no values.
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
	said := troubles[f.Trouble]
	return strings.NewReplacer(
		"{seal}", SealName(f.Era, f.Number), "{entry}", fmt.Sprint(f.Entry), "{row}", row, "{fields}", fields, "{by}", by,
	).Replace(said.what + " " + said.do)
}
