package bench

import (
	"fmt"
	"io"
	"text/tabwriter"
	"time"
)

// Result is what was measured, and on what.
type Result struct {
	Go         string     `json:"go"`
	PostgreSQL string     `json:"postgresql"`
	CPUs       int        `json:"cpus"`
	Clients    int        `json:"clients"`
	Rounds     int        `json:"rounds"`
	Seconds    int        `json:"seconds"`
	Pgbench    bool       `json:"pgbench"` // false: there was none
	Registers  []Register `json:"registers"`
	Growth     []Growth   `json:"growth,omitempty"`
}

// Register is one register and the operations on it.
type Register struct {
	Anchors     int         `json:"anchors"`
	Groups      int         `json:"groups"`
	Sites       int         `json:"sites"`
	Bytes       int64       `json:"bytes"` // of the database
	FillSeconds float64     `json:"fill_s"`
	Operations  []Operation `json:"operations"`
	Sealing     *Sealing    `json:"sealing,omitempty"`
}

// Operation is the median time of one operation through the store and with
// pgbench, microseconds a call.
type Operation struct {
	Name    string  `json:"name"`
	What    string  `json:"what"`
	Rows    int     `json:"rows"` // that the last call came to
	StoreUS float64 `json:"store_us"`
	// PgbenchUS and Ratio are nil without pgbench. Ratio is the store's rate as
	// a share of pgbench's.
	PgbenchUS *float64 `json:"pgbench_us,omitempty"`
	Ratio     *float64 `json:"ratio,omitempty"`

	atMost float64
}

// Growth is the time of an operation in the largest register as a multiple of
// that in the smallest.
type Growth struct {
	Operation string   `json:"operation"`
	From      int      `json:"from"`
	To        int      `json:"to"`
	Times     float64  `json:"times"`
	AtMost    *float64 `json:"at_most,omitempty"` // nil: no bound
	Held      *bool    `json:"held,omitempty"`
}

func newOperation(op operation, e *entry) Operation {
	made := Operation{Name: op.name, What: op.what, Rows: e.rows, StoreUS: microseconds(median(e.store)), atMost: op.atMost}
	if len(e.pgbench) > 0 {
		bare := microseconds(median(e.pgbench))
		ratio := bare / made.StoreUS
		made.PgbenchUS, made.Ratio = &bare, &ratio
	}
	return made
}

func microseconds(d time.Duration) float64 { return float64(d.Nanoseconds()) / 1000 }

// compare sets the largest register against the smallest.
func (r *Result) compare() {
	small, large := r.Registers[0], r.Registers[0]
	for _, one := range r.Registers {
		if one.Anchors < small.Anchors {
			small = one
		}
		if one.Anchors > large.Anchors {
			large = one
		}
	}
	if small.Anchors == large.Anchors {
		return
	}
	for i, op := range large.Operations {
		g := Growth{Operation: op.Name, From: small.Anchors, To: large.Anchors, Times: op.StoreUS / small.Operations[i].StoreUS}
		if op.atMost > 0 {
			held := g.Times <= op.atMost
			g.AtMost, g.Held = &op.atMost, &held
		}
		r.Growth = append(r.Growth, g)
	}
}

// Print writes the figures as tables.
func (r *Result) Print(w io.Writer) error {
	p := &printer{w: tabwriter.NewWriter(w, 0, 8, 2, ' ', 0)}
	p.line("%s, PostgreSQL %s, %d CPUs, clients: %d; medians of %d rounds of %d s. Invented registers, as the application's role under row security.",
		r.Go, r.PostgreSQL, r.CPUs, r.Clients, r.Rounds, r.Seconds)
	if !r.Pgbench {
		p.line("There is no pgbench beside the server's programs, so the figures stand alone: install PostgreSQL's contributed programs.")
	} else {
		p.line("pgbench runs the same statements, with what changes taken back. The ratio is the store's rate as a share of pgbench's.")
	}
	for _, one := range r.Registers {
		p.line("\n%d anchors, %d groups, %d sites; %d MB, filled in %.0f s", one.Anchors, one.Groups, one.Sites, one.Bytes/1_000_000, one.FillSeconds)
		p.line("operation\trows\tstore µs\tpgbench µs\tratio\twhat")
		for _, op := range one.Operations {
			p.line("%s\t%d\t%.0f\t%s\t%s\t%s", op.Name, op.Rows, op.StoreUS, figure("%.0f", op.PgbenchUS), figure("%.2f", op.Ratio), op.What)
		}
	}
	p.sealing(r.Registers)
	p.growth(r.Growth)
	if p.err != nil {
		return p.err
	}
	return p.w.Flush()
}

// printer writes lines until one fails.
type printer struct {
	w   *tabwriter.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

func (p *printer) sealing(list []Register) {
	for _, one := range list {
		s := one.Sealing
		if s == nil {
			continue
		}
		p.line("\n%d anchors, %d writers: %.0f changes a second, with the ledger sealed every %d ms beside them, as the service does, %.0f.",
			one.Anchors, s.Writers, s.WithoutPS, s.EveryMS, s.WithPS)
		p.line("Lost to sealing: %.1f %% (median of %d pairs of turns of %d ms, by turns first and last; the middle half of them: %.1f to %.1f %%). Below 0 the turn with sealing was the faster.",
			100*s.Lost, s.Pairs, s.TurnMS, 100*s.LostFrom, 100*s.LostTo)
		p.line("Rounds of sealing: %d, seals made: %d; %.1f %% of the time went by in them.", s.Rounds, s.Seals, 100*s.Busy)
	}
}

func (p *printer) growth(list []Growth) {
	if len(list) == 0 {
		return
	}
	p.line("\nTime of %d anchors as a multiple of that of %d", list[0].To, list[0].From)
	p.line("operation\ttimes\tat most\tbound")
	for _, g := range list {
		bound := "none"
		if g.Held != nil {
			bound = "held"
			if !*g.Held {
				bound = "MISSED"
			}
		}
		p.line("%s\t%.2f\t%s\t%s", g.Operation, g.Times, figure("%.1f", g.AtMost), bound)
	}
}

// figure writes a number that may be missing.
func figure(format string, v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf(format, *v)
}
