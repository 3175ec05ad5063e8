package app

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"rockledger/internal/assess"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// MostAtOnce is how many rows a list may have to be entered in one transaction,
// while whoever hands it in waits; MostRows how many it may have at all. Defaults
// of this project.
const (
	MostAtOnce = 5000
	MostRows   = 250_000
)

// errDryRun aborts an intake that was only to be tried.
var errDryRun = errors.New("dry run")

// Import takes over an anchor list and says what became of each of its rows.
// A row about an anchor that a list entered before is compared, cell by cell,
// with that list's row, not with the register: what differs is taken over,
// unless the register says something else than either by now, which is a clash
// and left alone. No record is altered: a corrected one replaces it.
// A dry run answers the same, but for the import's id, and writes nothing. A
// list of more than MostAtOnce rows is fault.TooLarge: see HandIn and HandInTrial.
func (s *Service) Import(ctx context.Context, who registry.Actor, list registry.List, dryRun bool) (report.Import, error) {
	if err := may(who, ImportList); err != nil {
		return report.Import{}, err
	}
	if n := len(list.Rows); n > MostAtOnce {
		return report.Import{}, tooLong(n, MostAtOnce)
	}
	asOf, at := s.AsOf(who), s.instant()
	var out report.Import
	err := s.store.Intake(ctx, who, wanting(list.Rows), func(known registry.Known, rules houserules.Rules) (registry.Change, error) {
		in := newIntake(list, known, asOf, at)
		in.takeRows()
		change, err := in.change(rules)
		out = in.report
		if dryRun {
			out.ID, out.DryRun = "", true
			return registry.Change{}, errDryRun
		}
		return change, err
	})
	if err != nil && !errors.Is(err, errDryRun) {
		return report.Import{}, fmt.Errorf("import %q: %w", list.FileName, err)
	}
	return out, nil
}

func tooLong(rows, limit int) error {
	return fault.New(fault.TooLarge, "list of %d rows", rows).With("rows", strconv.Itoa(rows), "limit", strconv.Itoa(limit))
}

// change gathers all that the rows brought, with every new anchor to be assessed and
// the report kept beside it. It is empty if nothing was entered or changed and
// there is nothing to remember.
func (in *intake) change(rules houserules.Rules) (registry.Change, error) {
	if len(in.written.ImportRows) == 0 {
		return registry.Change{}, nil
	}
	in.report.ID = in.id.String()
	text, err := reportText(in.report)
	if err != nil {
		return registry.Change{}, err
	}
	c := in.gathered(rules)
	c.Import = in.imported(text)
	return c, nil
}

// gathered is all that the rows brought, with every new anchor to be assessed.
func (in *intake) gathered(rules houserules.Rules) registry.Change {
	c := in.written
	in.book.into(&c)
	c.What, c.At = "import", in.at
	c.Assemblies = in.assemblies()
	c.Assess = func() []registry.Assessment {
		return append(in.assess(rules, c.Assemblies), in.reassess(rules)...)
	}
	c.Judge = func(f registry.Facts) registry.Assessment { return assess.Anchor(f.Current(), rules, in.asOf) }
	c.Heeded = in.heeded()
	return c
}

// imported is the import with its report.
func (in *intake) imported(text []byte) *registry.Import {
	return &registry.Import{
		ID: in.id, FileName: in.list.FileName, FileHash: in.list.FileHash, Headings: in.list.Headings,
		Encoding: in.list.Encoding, Delimiter: in.list.Delimiter, Report: text, At: in.at,
	}
}

// columns says for each heading which field it was taken for; a heading taken
// for several fields is named with each.
func columns(list registry.List) []report.Column {
	fields := make(map[string][]string)
	for field, heading := range list.Columns {
		fields[heading] = append(fields[heading], field)
	}
	out := []report.Column{}
	for _, h := range list.Headings {
		slices.Sort(fields[h])
		if len(fields[h]) == 0 {
			out = append(out, report.Column{Heading: h})
		}
		for _, f := range fields[h] {
			out = append(out, report.Column{Heading: h, Field: f})
		}
		delete(fields, h) // a second column of that name was not taken
	}
	return out
}
