package sheetcheck

import (
	"bytes"

	"github.com/google/uuid"

	"rockledger/internal/adhesive"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// asSet is how an anchor was set: one installation with what its session adds.
type asSet struct {
	*registry.Installation
	session registry.GluingSession // the zero session: none, or not on record

	form     registry.Form
	bonded   *bool         // nil: not known
	on       calendar.Span // the day; not known only of a list's
	adhesive *uuid.UUID    // product
	batch    *registry.Batch
	hardware *registry.ProductVersion // sheet of the day; nil: none
	sheet    *registry.ProductVersion // of the adhesive, of the day; nil: none
	cures    []*registry.Cure         // about this setting
}

// settingOf returns how an anchor was set last, and false if no installation is
// on record. Records that others replace must have been left out. Of what was
// entered by a person and what a list says, the person's word counts.
func settingOf(f *registry.Facts) (asSet, bool) {
	var last *registry.Installation
	for k := range f.Installations {
		if i := &f.Installations[k]; laterSet(i, last) {
			last = i
		}
	}
	if last == nil {
		return asSet{}, false
	}
	s := asSet{Installation: last, form: last.Form, bonded: f.Bonded(), on: last.DoneOn}
	if s.form == "" {
		s.form = f.Anchor.Form
	}
	s.takeSession(f)
	s.takeProducts(f)
	s.takeCures(f)
	return s, true
}

// SetBy lists the persons on record as having made the anchor's latest setting;
// none: not recorded, or no setting is. Records that others replace must have
// been left out.
func SetBy(f *registry.Facts) []uuid.UUID {
	s, ok := settingOf(f)
	if !ok {
		return nil
	}
	var out []uuid.UUID
	for _, by := range []*uuid.UUID{s.PersonID, s.session.SetByID} {
		if by != nil {
			out = append(out, *by)
		}
	}
	return out
}

// perhapsBonded is false where surely nothing was bonded.
func (s *asSet) perhapsBonded() bool { return s.bonded == nil || *s.bonded }

// laterSet orders installations: recorded here, then by the earliest day, by
// when they were recorded, and by id.
func laterSet(i, than *registry.Installation) bool {
	switch {
	case than == nil:
		return true
	case (i.Origin == registry.Recorded) != (than.Origin == registry.Recorded):
		return i.Origin == registry.Recorded
	case i.DoneOn.From != than.DoneOn.From:
		return i.DoneOn.From > than.DoneOn.From
	case !i.RecordedAt.Equal(than.RecordedAt):
		return i.RecordedAt.After(than.RecordedAt)
	}
	return bytes.Compare(i.ID[:], than.ID[:]) > 0
}

// takeSession finds the session that stands in the end for the one that the
// installation names.
func (s *asSet) takeSession(f *registry.Facts) {
	if s.SessionID == nil {
		return
	}
	id := *s.SessionID
	for range f.Sessions { // a chain is no longer than that
		next := latestReplacing(f.Sessions, id)
		if next == nil {
			break
		}
		id = next.ID
	}
	for k := range f.Sessions {
		if f.Sessions[k].ID == id {
			s.session = f.Sessions[k]
		}
	}
}

// latestReplacing finds the latest session that replaces another, nil for none.
func latestReplacing(list []registry.GluingSession, id uuid.UUID) *registry.GluingSession {
	var last *registry.GluingSession
	for k := range list {
		x := &list[k]
		if x.Replaces == nil || *x.Replaces != id {
			continue
		}
		if last == nil || x.RecordedAt.After(last.RecordedAt) ||
			x.RecordedAt.Equal(last.RecordedAt) && bytes.Compare(x.ID[:], last.ID[:]) > 0 {
			last = x
		}
	}
	return last
}

// takeProducts finds the adhesive, its batch and the sheets of the day. What the
// installation leaves open is the session's, and then the batch's.
func (s *asSet) takeProducts(f *registry.Facts) {
	batch := orElse(s.BatchID, s.session.BatchID)
	for k := range f.Batches {
		if batch != nil && f.Batches[k].ID == *batch {
			s.batch = &f.Batches[k]
		}
	}
	s.adhesive = orElse(s.AdhesiveID, s.session.AdhesiveID)
	if s.adhesive == nil && s.batch != nil {
		s.adhesive = s.batch.ProductID
	}
	if s.session.AdhesiveID != nil || s.session.BatchID != nil {
		yes := true
		s.bonded = &yes
	}
	s.hardware = sheetOf(f.Sheets, orElse(s.HardwareID, f.Anchor.ProductID), s.on.From)
	s.sheet = sheetOf(f.Sheets, s.adhesive, s.on.From)
}

func orElse[T any](v, other *T) *T {
	if v != nil {
		return v
	}
	return other
}

// sheetOf finds a product's sheet of a day: the latest that was in force. Of an
// uncertain day the caller gives the earlier end.
func sheetOf(list []registry.ProductVersion, product *uuid.UUID, on calendar.Date) *registry.ProductVersion {
	var of *registry.ProductVersion
	for k := range list {
		v := &list[k]
		if product == nil || v.ProductID != *product || v.From > on {
			continue
		}
		if of == nil || v.From > of.From || v.From == of.From && bytes.Compare(v.ID[:], of.ID[:]) > 0 {
			of = v
		}
	}
	return of
}

// takeCures finds the cure records that are about this setting: those that name
// it, and those made since that name no other installation on record.
func (s *asSet) takeCures(f *registry.Facts) {
	for k := range f.Cures {
		u := &f.Cures[k]
		named := u.InstallationID != nil && *u.InstallationID == s.ID
		if named || !otherInstallation(f, u) && u.DoneOn.To >= s.on.From {
			s.cures = append(s.cures, u)
		}
	}
}

// otherInstallation says whether a cure names an installation that counts.
func otherInstallation(f *registry.Facts, u *registry.Cure) bool {
	if u.InstallationID == nil {
		return false
	}
	for k := range f.Installations {
		if f.Installations[k].ID == *u.InstallationID {
			return true
		}
	}
	return false
}

// hole says how wet the hole was, in the words of package adhesive.
func hole(s *asSet) adhesive.Moisture { return adhesive.Moisture(s.Moisture) }
