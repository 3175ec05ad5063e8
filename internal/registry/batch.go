package registry

import (
	"strings"
	"unicode"

	"github.com/google/uuid"
	"golang.org/x/text/unicode/norm"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// Batch is a delivery of one product under the maker's batch text.
type Batch struct {
	ID         uuid.UUID
	Version    int
	ProductID  *uuid.UUID // nil: product not known
	Text       string     // as printed
	ExpiresOn  calendar.Date
	ReceivedOn calendar.Date
	Quantity   string // in words, as delivered
	// Received and OnHand count cartridges, or pieces of hardware. Nil: not
	// known.
	Received *int
	OnHand   *int
	EndedOn  calendar.Date // used up or thrown away; zero: on hand
}

// Validate reports every violation, keyed by JSON name.
func (b *Batch) Validate() error {
	var c fault.Checks
	c.Require(b.Key() != "", "text", fault.Blank)
	c.Require(len(b.Text) <= MaxName, "text", fault.TooLong)
	c.Require(len(b.Quantity) <= MaxName, "quantity", fault.TooLong)
	checkCount(&c, "count_received", b.Received, 0, MaxCount)
	checkCount(&c, "count_on_hand", b.OnHand, 0, MaxCount)
	c.Require(b.Received == nil || b.OnHand == nil || *b.OnHand <= *b.Received, "count_on_hand", fault.Mismatch, "with", "count_received")
	return c.Err()
}

// MaxCount is the most pieces that a batch counts.
const MaxCount = 1_000_000

// Expiry says how a batch stands to its last good day.
type Expiry string

// How a batch can stand; the empty expiry is not known.
const (
	Expired     Expiry = "expired"
	ExpiresSoon Expiry = "expires-soon"
	InDate      Expiry = "in-date"
)

// Expiries lists how a batch can stand.
func Expiries() []Expiry { return []Expiry{Expired, ExpiresSoon, InDate} }

// ExpirySoonDays is within how many days a batch expires soon: enough for two
// months of weekends. Default of this project.
const ExpirySoonDays = 60

// Expiry says how the batch stands on a day; the day of expiry is its last good
// one.
func (b Batch) Expiry(asOf calendar.Date) Expiry {
	switch {
	case b.ExpiresOn.IsZero():
		return ""
	case b.ExpiresOn < asOf:
		return Expired
	case b.ExpiresOn <= asOf.AddDays(ExpirySoonDays):
		return ExpiresSoon
	}
	return InDate
}

// Shelved says whether some of the batch may still lie on the shelf.
func (b Batch) Shelved() bool { return b.EndedOn.IsZero() && (b.OnHand == nil || *b.OnHand > 0) }

// Key is the batch's text with case, spaces and punctuation folded, so that
// "L1709-A" and "l 1709 a" are one batch.
func (b Batch) Key() string { return FoldBatch(b.Text) }

// FoldBatch keeps the letters and digits of a batch text, in upper case. Wide
// and other forms of a letter that stand for the same count as it (Unicode's
// NFKC): what a phone types is what is printed.
func FoldBatch(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToUpper(r)
		}
		return -1
	}, norm.NFKC.String(text))
}
