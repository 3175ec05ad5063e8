package app

import (
	"context"
	"fmt"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// ListWriter takes a list of anchors, in this order: Under at most once, Row
// for each anchor, Close if all went well.
type ListWriter interface {
	// Under asks for the headings of a list that was taken over.
	Under(registry.PastList) error
	Row(registry.Listed) error
	Close() error
}

// ExportAnchorList writes every anchor of the group to out, removed ones too but
// none that counts as never entered, by site, sector, route and stop, with what holds today. Who is no steward
// gets no coordinates of caves. A list that ask names and that was not taken
// over is fault.NotFound; one named without asking for its headings is
// fault.Invalid. After any other error what was written is no list.
func (s *Service) ExportAnchorList(ctx context.Context, who registry.Actor, ask registry.ListAsk, out ListWriter) error {
	if err := may(who, ExportAnchorList); err != nil {
		return err
	}
	var c fault.Checks
	c.Require(ask.Own || ask.ImportID == nil, "import_id", fault.Mismatch)
	if err := c.Err(); err != nil {
		return err
	}
	if err := s.refreshGroup(ctx, who); err != nil {
		return err
	}
	steward := who.Role.Rank() >= registry.RoleSteward.Rank()
	asOf := s.AsOf(who)
	err := s.store.EachListed(ctx, who.GroupID, ask, out.Under, func(e registry.ListEntry) error {
		l := listed(&e, asOf)
		if l.SiteKind == registry.Cave && !steward {
			l.CoordinateWords, l.Withheld = "", true
		}
		return out.Row(l)
	})
	switch {
	case err == nil:
		err = out.Close()
	case fault.KindOf(err) == fault.NotFound:
		err = noList(ask)
	}
	if err != nil {
		return fmt.Errorf("export the anchor list: %w", err)
	}
	return nil
}

// noList says that the list whose headings are asked for is not there.
func noList(ask registry.ListAsk) error {
	if ask.ImportID == nil {
		return fault.New(fault.NotFound, "no list is in force").With("no_list", "yes")
	}
	return fault.New(fault.NotFound, "no list was taken over as %s: take the id that its import report gave", *ask.ImportID)
}

// listed puts together what a list says of an anchor.
func listed(e *registry.ListEntry, asOf calendar.Date) registry.Listed {
	place, f := &e.Line.Place, &e.Facts
	l := registry.Listed{
		Anchor: place.Anchor, Standing: place.Standing, SiteKind: f.Site.Kind,
		Site: place.Site, Sector: place.Sector, Route: place.Route, Routes: e.Routes, Label: place.Label, Role: place.Role,
		Hanger: f.HasHanger(asOf), Hole: f.Setting(), Seen: f.LastSeen(), Out: f.CameOut(),
		Lat: f.Position.Lat, Lon: f.Position.Lon, CoordinateWords: coordinateWords(e),
		Landowner: e.Line.Landowner, Row: e.Row,
	}
	if l.Hole != nil {
		set := f.AsSet(l.Hole)
		l.Hole = &set
		l.Glue, l.Batch, l.SetBy = setWith(e, l.Hole)
	}
	return l
}

// siteWordsJoin stands between what several rows wrote of one cave's coordinates.
const siteWordsJoin = "; "

// coordinateWords are an anchor's own of those written of its cave: the cell of
// its list row or, where it came from no list, what is written of the cave unless
// that is of several rows.
func coordinateWords(e *registry.ListEntry) string {
	words := e.Facts.Site.CoordinateWords
	switch {
	case e.Written != nil:
		return *e.Written
	case strings.Contains(words, siteWordsJoin):
		return ""
	}
	return words
}

// setWith names what and who an installation names; without an adhesive it is
// that of the batch.
func setWith(e *registry.ListEntry, i *registry.Installation) (glue, batch, by string) {
	adhesive := i.AdhesiveID
	if i.BatchID != nil {
		b := e.Batches[*i.BatchID]
		batch = b.Text
		if adhesive == nil {
			adhesive = b.ProductID
		}
	}
	if adhesive != nil {
		glue = e.Products[*adhesive]
	}
	if i.PersonID != nil {
		by = e.Persons[*i.PersonID]
	}
	return glue, batch, by
}
