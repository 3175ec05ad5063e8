package app_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// moment is when, in the course of a piece, an import is killed.
type moment int

const (
	before moment = iota // nothing of the piece was done
	within               // it was decided on, not entered
	after                // it was entered, but nobody was told
)

// killing is a store that ends its import's context at the at-th piece.
type killing struct {
	app.Store
	at     int
	when   moment
	kill   func()
	killed bool
}

func (k *killing) TakePiece(ctx context.Context, who registry.Actor, id uuid.UUID, wanted func(registry.List) registry.Wanted,
	decide func(registry.ImportJob, registry.List, registry.Known, houserules.Rules) (registry.Change, error),
) (registry.ImportJob, error) {
	if k.at--; k.at != 0 {
		return k.Store.TakePiece(ctx, who, id, wanted, decide)
	}
	k.killed = true
	switch k.when {
	case before:
		k.kill()
	case within:
		kept := decide
		decide = func(j registry.ImportJob, l registry.List, n registry.Known, r houserules.Rules) (registry.Change, error) {
			k.kill()
			return kept(j, l, n, r)
		}
	case after:
		defer k.kill()
	}
	return k.Store.TakePiece(ctx, who, id, wanted, decide)
}

// handIn keeps a list to be entered, and fails the test if that cannot be.
func (h *house) handIn(t *testing.T, who registry.Actor, list registry.List) report.ImportState {
	t.Helper()
	state, err := h.HandIn(t.Context(), who, list)
	if err != nil {
		t.Fatal(err)
	}
	return state
}

// runThrough enters what is left of a list.
func (h *house) runThrough(t *testing.T, who registry.Actor, id uuid.UUID) report.ImportState {
	t.Helper()
	state, err := h.RunImport(t.Context(), who, id, func(report.ImportState) {})
	if err != nil {
		t.Fatal(err)
	}
	return state
}

// holdings are a group's anchors with where they are and how they stand, one a
// line, in no order that depends on ids, and how many assemblies it has.
func (h *house) holdings(t *testing.T, who registry.Actor) []string {
	t.Helper()
	as := house{Service: h.Service, who: who}
	var out []string
	for _, l := range as.anchors(t, registry.AnchorFilter{}) {
		a := l.Anchor
		out = append(out, fmt.Sprint(l.Site, "|", l.Sector, "|", l.Route, "|", l.Label, "|", l.Role, "|", a.Form, "|", a.Metal, "|",
			a.SetOn, "|", a.Removed, "|", a.RemovedOn, "|", l.Standing, "|", l.DueOn, "|", l.DueState, "|", l.Band))
	}
	slices.Sort(out)
	assemblies, err := h.Assemblies(t.Context(), who, nil, registry.Page{Limit: 500})
	if err != nil {
		t.Fatal(err)
	}
	assemblies = slices.DeleteFunc(assemblies, func(a registry.Assembly) bool { return !a.EndedOn.IsZero() })
	return append(out, fmt.Sprintf("%d assemblies", len(assemblies)))
}

// sampleOf is the first lines of the sample.
func sampleOf(t *testing.T, lines int) []byte {
	t.Helper()
	data, err := os.ReadFile("../../testdata/anchor-list.csv")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.SplitAfter(string(data), "\n")
	return []byte(strings.Join(text[:min(lines, len(text))], ""))
}
