package sheetcheck

import (
	"bytes"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/adhesive"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// asSet is how an anchor was set: one installation with what its session adds,
// as Facts.AsSet has it.
type asSet struct {
	registry.Installation
	session registry.GluingSession // the zero session: none, or not on record

	form     registry.Form
	bonded   *bool         // nil: not known
	on       calendar.Span // the day; not known only of a list's
	adhesive *uuid.UUID    // product; nil: not known, or contradicted
	// contradicted says that the adhesive on record is not that of its batch.
	contradicted bool
	batch        *registry.Batch
	hardware     *registry.ProductVersion // sheet of the day; nil: none
	sheet        *registry.ProductVersion // of the adhesive, of the day; nil: none
	cures        []*registry.Cure         // about this setting
}

// settingOf returns how an anchor was set last, and false if no installation is
// on record. Records that others replace must have been left out.
func settingOf(f *registry.Facts) (asSet, bool) {
	last := f.LatestSet(func(*registry.Installation) bool { return true })
	if last == nil {
		return asSet{}, false
	}
	s := asSet{Installation: f.AsSet(last), form: last.Form, bonded: bondedOf(f, last)}
	s.on = s.DoneOn
	if s.form == "" {
		s.form = f.Anchor.Form
	}
	if session := f.SessionOf(last); session != nil {
		s.session = *session
	}
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
		if by != nil && !slices.Contains(out, *by) {
			out = append(out, *by)
		}
	}
	return out
}

// bondedOf says whether resin or mortar holds a setting: as Facts.Bonded says of
// its anchor, but surely not where it records a form that no resin holds and no
// glue of its own, nor the anchor's form says otherwise. What was glued before it
// is another setting, and its session's glue is its neighbours'.
func bondedOf(f *registry.Facts, i *registry.Installation) *bool {
	if i.Form != "" && !i.Form.Bonded() && i.AdhesiveID == nil && i.BatchID == nil && !f.Anchor.Form.Bonded() {
		no := false
		return &no
	}
	return f.Bonded()
}

// perhapsBonded is false where surely nothing was bonded.
func (s *asSet) perhapsBonded() bool { return s.bonded == nil || *s.bonded }

// takeProducts finds the adhesive, its batch and the sheets of the day. An
// adhesive that nobody recorded is the batch's; of one that is not the batch's
// neither counts.
func (s *asSet) takeProducts(f *registry.Facts) {
	for k := range f.Batches {
		if s.BatchID != nil && f.Batches[k].ID == *s.BatchID {
			s.batch = &f.Batches[k]
		}
	}
	s.adhesive = s.AdhesiveID
	if s.adhesive == nil && s.batch != nil {
		s.adhesive = s.batch.ProductID
	}
	if s.batch != nil && s.batch.ProductID != nil && *s.adhesive != *s.batch.ProductID {
		s.adhesive, s.contradicted = nil, true
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
