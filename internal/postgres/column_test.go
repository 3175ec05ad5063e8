package postgres

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/pgtest"
)

// What a row struct sends comes back as it was: the texts of both are the same,
// those that the ledger binds. And it is of the types that the table has.
func TestColumns(t *testing.T) {
	t.Parallel()
	s := New(pgtest.New(t).App)
	for _, check := range []func(*testing.T, *Store){
		columnsOfTable(agreements), columnsOfTable(restrictions), columnsOfTable(anchors), columnsOfTable(fittings),
		columnsOfTable(assemblies), columnsOfTable(members), columnsOfTable(history), columnsOfTable(assessments),
		columnsOfTable(findings), columnsOfTable(candidates), columnsOfTable(batches), columnsOfTable(environments),
		columnsOfTable(erasures), columnsOfTable(holds), columnsOfTable(events), columnsOfTable(sessions),
		columnsOfTable(installations), columnsOfTable(cures), columnsOfTable(firstUses), columnsOfTable(imports),
		columnsOfTable(importRows), columnsOfTable(jobs), columnsOfTable(persons), columnsOfTable(landowners),
		columnsOfTable(parcels), columnsOfTable(notices), columnsOfTable(named), columnsOfTable(pictures), columnsOfTable(sites),
		columnsOfTable(sectors), columnsOfTable(routes), columnsOfTable(positions), columnsOfTable(stops),
		columnsOfTable(products), columnsOfTable(proposals), columnsOfTable(inspections), columnsOfTable(settlements),
		columnsOfTable(retractions), columnsOfTable(productVersions), columnsOfTable(undos), columnsOfTable(maintenance),
		columnsOfTable(removals), columnsOfTable(markings),
	} {
		check(t, s)
	}
}

func columnsOfTable[R any](tab table[R]) func(*testing.T, *Store) {
	return func(t *testing.T, s *Store) {
		t.Helper()
		t.Run(tab.name, func(t *testing.T) {
			sent := inventRows[R](200)
			args, err := tab.source.args(tab.name, uuid.New(), sent)
			if err != nil {
				t.Fatal(err)
			}
			prepares(t, s, tab.insertSQL, args)
			if slices.Contains(columns[R](), "version") {
				prepares(t, s, tab.updateSQL, args)
			}
			if tab.name == stops.name || tab.name == members.name || tab.name == named.name {
				prepares(t, s, tab.deleteSQL, args)
			}
			delete(args, "group_id")
			var back []R
			err = s.read(t.Context(), uuid.New(), "read columns", func(b *pgx.Batch) {
				all(b, &back, "SELECT "+tab.source.listSQL+" FROM "+tab.source.fromSQL, args)
			})
			if err != nil {
				t.Fatal(err)
			}
			for i := range sent {
				instantsInUTC(reflect.ValueOf(&sent[i]).Elem()) // as instants come back
				if diff := cmp.Diff(wholeText(t, sent[i]), wholeText(t, back[i])); diff != "" {
					t.Fatalf("row %d comes back otherwise (-sent +back):\n%s", i, diff)
				}
			}
		})
	}
}

// instantsInUTC gives the instants of a row in UTC.
func instantsInUTC(v reflect.Value) {
	switch {
	case v.Type() == reflect.TypeFor[time.Time]():
		v.Set(reflect.ValueOf(v.Interface().(time.Time).UTC()))
	case v.Kind() == reflect.Pointer && !v.IsNil():
		instantsInUTC(v.Elem())
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			instantsInUTC(v.Field(i))
		}
	}
}

// prepares says that a statement fits its table.
func prepares(t *testing.T, s *Store, sql string, args pgx.StrictNamedArgs) {
	t.Helper()
	c, err := s.pool.Acquire(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Release()
	if sql, _, err = args.RewriteQuery(t.Context(), c.Conn(), sql, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Conn().Prepare(t.Context(), "", sql); err != nil {
		t.Errorf("%v in %s", err, sql)
	}
}

func wholeText(t *testing.T, r any) string {
	t.Helper()
	text, err := textOf(r, whole)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// inventRows are rows whose texts the database can hold.
func inventRows[R any](n int) []R {
	dice := rand.New(rand.NewPCG(3, 4))
	var rows []R
	for len(rows) < n {
		var r R
		invent(dice, reflect.ValueOf(&r).Elem())
		if text, err := textOf(r, whole); err == nil && !strings.Contains(text, `\u0000`) {
			rows = append(rows, r)
		}
	}
	return rows
}

// A text that the database cannot hold is refused as the sender's mistake.
func TestColumnsReject(t *testing.T) {
	t.Parallel()
	s := New(pgtest.New(t).App)
	args, err := jobs.source.args(jobs.name, uuid.New(), []jobRow{{ID: uuid.New(), FileName: "nul\x00"}})
	if err != nil {
		t.Fatal(err)
	}
	err = s.read(t.Context(), uuid.New(), "write", func(b *pgx.Batch) { b.Queue(jobs.insertSQL, args) })
	if fault.KindOf(err) != fault.Invalid {
		t.Errorf("text with a NUL: %v, want Invalid", err)
	}
}
