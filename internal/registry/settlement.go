package registry

import (
	"bytes"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// MaxWords is the longest free text, in bytes.
const MaxWords = 4000

// Settlement is a named person's answer to one finding. It holds for the
// finding's rule and values, among which is the id of the record, fitting, event
// or notice that the finding rests on; it reopens when they change, or after
// Until.
type Settlement struct {
	Record
	Rule   string
	Values Values // of the finding, when it was settled
	Reason string
	Until  calendar.Date // last day; zero: open
}

// Answers says whether the settlement settles a finding on a day.
func (s *Settlement) Answers(f *Finding, asOf calendar.Date) bool {
	if s.Rule != f.Rule || len(s.Values) != len(f.Values) || !s.Until.IsZero() && s.Until < asOf {
		return false
	}
	for _, v := range s.Values {
		if f.Values.Text(v.Name) != v.Text {
			return false
		}
	}
	return true
}

// SettledBy returns the latest settlement that answers a finding on a day, nil
// if none does.
func (f *Facts) SettledBy(finding *Finding, asOf calendar.Date) *uuid.UUID {
	var by *Settlement
	for k := range f.Settlements {
		s := &f.Settlements[k]
		if s.Answers(finding, asOf) && (by == nil || laterRecorded(&s.Record, &by.Record)) {
			by = s
		}
	}
	if by == nil {
		return nil
	}
	id := by.ID
	return &id
}

// laterRecorded orders records by when they were recorded, then by id.
func laterRecorded(a, b *Record) bool {
	if !a.RecordedAt.Equal(b.RecordedAt) {
		return a.RecordedAt.After(b.RecordedAt)
	}
	return bytes.Compare(a.ID[:], b.ID[:]) > 0
}

// Validate reports every violation, keyed by JSON name.
func (s *Settlement) Validate(asOf calendar.Date) error {
	var c fault.Checks
	s.validate(&c, asOf)
	c.Require(s.PersonID != nil, "person_id", fault.Required)
	c.Require(s.Rule != "", "rule", fault.Required)
	c.Require(strings.TrimSpace(s.Reason) != "", "reason", fault.Blank)
	c.Require(len(s.Reason) <= MaxWords, "reason", fault.TooLong)
	c.Require(s.Until.IsZero() || s.Until >= s.DoneOn.To, "until", fault.Order)
	return c.Err()
}

// Retraction takes another record of the same anchor back: it counts as never
// made, and both stay.
type Retraction struct {
	Record
	RetractsID uuid.UUID
	Reason     string
}

// Validate reports every violation, keyed by JSON name.
func (r *Retraction) Validate(asOf calendar.Date) error {
	var c fault.Checks
	r.validate(&c, asOf)
	c.Require(r.PersonID != nil, "person_id", fault.Required)
	c.Require(r.RetractsID != uuid.Nil, "retracts_id", fault.Required)
	c.Require(r.RetractsID != r.ID, "retracts_id", fault.Mismatch)
	c.Require(strings.TrimSpace(r.Reason) != "", "reason", fault.Blank)
	return c.Err()
}
