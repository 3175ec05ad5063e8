package registry

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// Picture is a picture of one anchor. What it is made of is kept apart, under
// the group and the hash; the same file sent for two anchors is kept once.
type Picture struct {
	ID       uuid.UUID
	Version  int
	AnchorID uuid.UUID
	RecordID *uuid.UUID // the record of the anchor that it belongs to; nil: none
	// Hash is the SHA-256 of the file as it was sent, in hex. The bytes kept
	// are others: place and owner are taken out of them.
	Hash       string
	TakenOn    calendar.Date // as a person says; zero: not known
	Words      string
	Width      int        // of the largest size, pixels
	Height     int        // of the largest size, pixels
	PersonID   *uuid.UUID // who took or recorded it; nil: not said
	RecordedAt time.Time
	EndedOn    calendar.Date // withdrawn on this day; zero: it stands
}

// Validate reports every violation, keyed by JSON name.
func (p *Picture) Validate(asOf calendar.Date) error {
	var c fault.Checks
	c.Require(p.AnchorID != uuid.Nil, "anchor_id", fault.Required)
	c.Require(p.RecordID == nil || *p.RecordID != p.ID, "record_id", fault.Mismatch)
	c.Require(len(p.Words) <= MaxWords, "words", fault.TooLong)
	c.Require(p.TakenOn <= asOf, "taken_on", fault.DateAhead, "today", asOf.String())
	c.Require(p.EndedOn <= asOf, "ended_on", fault.DateAhead, "today", asOf.String())
	return c.Err()
}

// PictureFile is a picture as it was sent, with the media type that it was said
// to be; blank: not said.
type PictureFile struct {
	Claimed string
	Data    []byte
}
