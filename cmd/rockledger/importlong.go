package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// importLong enters or tries a long list that was handed in, piece by piece, or
// goes on with one that was broken off, and says on stderr how far it is.
func importLong(ctx context.Context, r *register, who registry.Actor, state report.ImportState, stderr io.Writer) (report.Import, error) {
	p := progress{out: stderr, live: terminal(stderr)}
	p.tell(state)
	if state.State == registry.JobDone || state.State == registry.JobTried {
		return state.Report, nil
	}
	state, err := r.service.RunImport(ctx, who, state.ID, p.tell)
	p.end()
	return state.Report, p.broken(err)
}

// broken says of an import that was broken off how far it came; other errors stay
// as they are.
func (p *progress) broken(err error) error {
	if errors.Is(err, context.Canceled) {
		return errors.New(wording.ImportBrokenOff(p.last.RowsDone, p.last.Rows))
	}
	return err
}

// progressEvery is after how many rows a line is written where nobody watches.
const progressEvery = 10_000

// progress says how far a list is: in one line that changes on a terminal, else
// in a line now and then.
type progress struct {
	out  io.Writer
	live bool
	told int // rows, when it was said last
	last report.ImportState
}

func (p *progress) tell(s report.ImportState) {
	p.last = s
	line := wording.ImportProgress(s.Trial, s.RowsDone, s.Rows, s.Report.Entered)
	switch {
	case p.live:
		fmt.Fprintf(p.out, "\r%s\x1b[K", line) //nolint:errcheck // nobody watches
	case s.RowsDone/progressEvery > p.told/progressEvery || s.RowsDone == s.Rows:
		fmt.Fprintln(p.out, line) //nolint:errcheck // nobody watches
		p.told = s.RowsDone
	}
}

// end leaves the line that changes.
func (p *progress) end() {
	if p.live {
		fmt.Fprintln(p.out) //nolint:errcheck // nobody watches
	}
}

// terminal says whether somebody may watch what is written.
func terminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
