package app

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// Land reports what is known of the anchors on each landowner's land, or on
// that of one, and what was done there from one day to another; zero is a year
// before the end, and today. Standings and problems are those of the last of
// these days that has come, on the terms of Overdue for another day than today.
// With detail it goes anchor by anchor.
//
// A period that ends before it begins or lies beyond the days of a report, and
// a landowner that is not there, are fault.Invalid.
func (s *Service) Land(ctx context.Context, who registry.Actor, landowner *uuid.UUID, from, to calendar.Date, detail bool) (report.Land, error) {
	if err := may(who, ReportLand); err != nil {
		return report.Land{}, err
	}
	l, err := s.land(ctx, who, landowner, from, to, detail)
	if err != nil {
		return report.Land{}, fmt.Errorf("report land: %w", err)
	}
	return l, nil
}

func (s *Service) land(ctx context.Context, who registry.Actor, landowner *uuid.UUID, from, to calendar.Date, detail bool) (report.Land, error) {
	from, to, err := s.period(ctx, who, landowner, from, to)
	if err != nil {
		return report.Land{}, err
	}
	h, rules, err := s.heading(ctx, who, min(to, s.AsOf(who)))
	if err != nil {
		return report.Land{}, err
	}
	b := &landBook{from: from, to: to, asOf: h.AsOf, rules: rules, detail: detail}
	if err := s.openLand(ctx, who, landowner, b); err != nil {
		return report.Land{}, err
	}
	if err := s.store.EachFacts(ctx, who.GroupID, b.take); err != nil {
		return report.Land{}, err
	}
	seal, err := s.newestSeal(ctx, who)
	if err != nil {
		return report.Land{}, err
	}
	return report.Land{Heading: h, From: from, To: to, Detail: detail, Owners: b.close(), Seal: seal}, nil
}

// period fills and checks what a land report is asked for.
func (s *Service) period(ctx context.Context, who registry.Actor, landowner *uuid.UUID, from, to calendar.Date) (calendar.Date, calendar.Date, error) {
	d := s.newDesk(ctx, who)
	if to.IsZero() {
		to = d.asOf
	}
	if from.IsZero() {
		from = to.AddYears(-1) + 1
	}
	last := d.asOf.AddYears(yearsAhead)
	for field, day := range map[string]calendar.Date{"from": from, "to": to} {
		d.Require(day >= earliestReport && day <= last, field, fault.OutOfRange, "from", earliestReport.String(), "to", last.String())
	}
	d.Require(from <= to, "to", fault.Order)
	if landowner != nil {
		has(d, "landowner_id", *landowner, Store.Landowner)
	}
	return from, to, d.Err()
}

// openLand reads what a land report rests on beside the anchors.
func (s *Service) openLand(ctx context.Context, who registry.Actor, only *uuid.UUID, b *landBook) error {
	owners, err := all(func(page registry.Page) ([]registry.Landowner, error) {
		return s.store.Landowners(ctx, who.GroupID, page)
	}, func(l *registry.Landowner) uuid.UUID { return l.ID })
	if err != nil {
		return err
	}
	parcels, err := s.parcels(ctx, who, nil)
	if err != nil {
		return err
	}
	agreements, err := all(func(page registry.Page) ([]registry.Agreement, error) {
		return s.store.Agreements(ctx, who.GroupID, nil, page)
	}, func(a *registry.Agreement) uuid.UUID { return a.ID })
	if err != nil {
		return err
	}
	records, err := s.store.LandRecords(ctx, who.GroupID, b.from, b.to)
	if err != nil {
		return err
	}
	b.reach, err = s.restrictionReach(ctx, who)
	b.open(only, owners, parcels, agreements, records)
	return err
}
