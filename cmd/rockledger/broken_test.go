package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"testing"

	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// Who stops a command is told so in plain words, and of a long list how far it
// came.
func TestBrokenOff(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	ctx, stop := context.WithCancel(t.Context())
	stop()
	var out bytes.Buffer
	for _, args := range [][]string{
		{"export", "--group", "fell-end", s.app},
		{"import", "--undo", "01a2291f-7bba-72e6-adb1-ff9821c91a68", "--group", "fell-end", s.app},
	} {
		if err := run(ctx, args, &out, &out); err == nil || explain(err) != wording.BrokenOff {
			t.Errorf("%s: %v, want %q", args[0], err, wording.BrokenOff)
		}
	}
	p := progress{out: &out}
	p.tell(report.ImportState{RowsDone: 3000, Rows: 20_000})
	want := wording.ImportBrokenOff(3000, 20_000)
	if err := p.broken(fmt.Errorf("import x: %w", context.Canceled)); explain(err) != want {
		t.Errorf("a long list: %v, want %q", err, want)
	}
	other := errors.New("disk full")
	if !errors.Is(p.broken(other), other) || p.broken(nil) != nil {
		t.Error("another error is told as broken off")
	}
}
