package registry

import (
	"cmp"
	"slices"

	"github.com/google/uuid"
)

// GluingStory is one session with all that was set in it, and what they name.
type GluingStory struct {
	Session GluingSession
	// ReplacedBy is the session that corrects this one; nil: none does.
	ReplacedBy    *uuid.UUID
	Installations []Installation // those that name the session or one that it replaces
	Anchors       []AnchorLine   // of the installations
	Persons       map[uuid.UUID]string
	Products      map[uuid.UUID]Product
	Batches       map[uuid.UUID]Batch
}

// Named lists the products and batches that the anchor, its installations and
// their sessions name, not those of the batches themselves. An id may stand
// there more than once.
func (f *Facts) Named() (products, batches []uuid.UUID) {
	products = appendKnown(products, f.Anchor.ProductID)
	for k := range f.Installations {
		i := &f.Installations[k]
		products = appendKnown(products, i.HardwareID, i.AdhesiveID)
		batches = appendKnown(batches, i.BatchID)
	}
	for k := range f.Sessions {
		products = appendKnown(products, f.Sessions[k].AdhesiveID)
		batches = appendKnown(batches, f.Sessions[k].BatchID)
	}
	return products, batches
}

func appendKnown(list []uuid.UUID, ids ...*uuid.UUID) []uuid.UUID {
	for _, id := range ids {
		if id != nil {
			list = append(list, *id)
		}
	}
	return list
}

// SessionOf returns the session that an installation was set in as it was last
// corrected, or nil if it names none, or one that is not among the facts. Of
// two corrections of one session the one recorded later counts. Sessions that
// replace each other in a circle, which the register cannot hold, end where the
// circle closes.
func (f *Facts) SessionOf(i *Installation) *GluingSession {
	if i.SessionID == nil {
		return nil
	}
	at := slices.IndexFunc(f.Sessions, func(s GluingSession) bool { return s.ID == *i.SessionID })
	if at < 0 {
		return nil
	}
	s, seen := &f.Sessions[at], []uuid.UUID{*i.SessionID}
	for next := f.replacing(s.ID); next != nil && !slices.Contains(seen, next.ID); next = f.replacing(s.ID) {
		s, seen = next, append(seen, next.ID)
	}
	return s
}

// replacing returns the latest session that corrects another, nil for none.
func (f *Facts) replacing(session uuid.UUID) *GluingSession {
	var latest *GluingSession
	for k := range f.Sessions {
		s := &f.Sessions[k]
		if s.Replaces != nil && *s.Replaces == session && (latest == nil || latest.earlier(s)) {
			latest = s
		}
	}
	return latest
}

// AsSet returns an installation with what it leaves open taken from its
// session: adhesive, batch, who set it, and the day. Adhesive and batch go
// together: the session's batch is not taken beside another adhesive, nor its
// adhesive beside another batch. An installation that records a form which no
// resin holds takes neither. The session's opening of the cartridge is not when
// an anchor was set, so SetAt stays.
func (f *Facts) AsSet(i *Installation) Installation {
	set := *i
	s := f.SessionOf(i)
	if s == nil {
		return set
	}
	if i.Form == "" || i.Form.Bonded() {
		if i.AdhesiveID == nil && sameOrNone(i.BatchID, s.BatchID) {
			set.AdhesiveID = s.AdhesiveID
		}
		if i.BatchID == nil && sameOrNone(i.AdhesiveID, s.AdhesiveID) {
			set.BatchID = s.BatchID
		}
	}
	if set.PersonID == nil {
		set.PersonID = s.SetByID
	}
	if !set.DoneOn.Known() {
		set.DoneOn = s.DoneOn
	}
	return set
}

// sameOrNone says whether an id is the session's, or not given.
func sameOrNone(own, session *uuid.UUID) bool {
	return own == nil || session != nil && *own == *session
}

// earlier says whether s was recorded before o; of one instant the ids decide.
func (s *GluingSession) earlier(o *GluingSession) bool {
	return cmp.Or(s.RecordedAt.Compare(o.RecordedAt), cmp.Compare(s.ID.String(), o.ID.String())) < 0
}
