package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/pgtest"
	"rockledger/internal/wording"
)

// asMain makes the test binary the program itself, for tests that need it in
// a process of its own.
const asMain = "ROCKLEDGER_TEST_AS_MAIN"

func TestMain(m *testing.M) {
	if os.Getenv(asMain) != "" {
		main()
		return
	}
	for _, name := range []string{"ROCKLEDGER_DATABASE_URL", "ROCKLEDGER_ADMIN_URL"} {
		_ = os.Unsetenv(name) // the tests name their databases themselves
	}
	os.Exit(m.Run())
}

// command runs one command line and returns what it printed.
func command(t *testing.T, args ...string) (string, error) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	err := run(t.Context(), args, &stdout, &stderr)
	return stdout.String(), err
}

// must is command for one that has to succeed.
func must(t *testing.T, args ...string) string {
	t.Helper()
	out, err := command(t, args...)
	if err != nil {
		t.Fatalf("%q: %s", args, explain(err))
	}
	return out
}

// site is an empty register with the group fell-end, and the flags that name
// it.
type site struct {
	db         *pgtest.DB
	app, admin string
}

func newSite(t *testing.T) site {
	t.Helper()
	db := pgtest.New(t)
	s := site{db: db, app: "--database-url=" + db.AppURL(), admin: "--admin-url=" + db.OwnerURL()}
	if out := must(t, "group", "add", "fell-end", "--name", "Fell End (invented)", "--time-zone", "Europe/London", s.admin); !strings.Contains(out, "fell-end added") {
		t.Errorf("group add printed %q", out)
	}
	return s
}

func list(name string) string { return filepath.Join("..", "..", "testdata", name) }

func TestMigrateStatus(t *testing.T) {
	t.Parallel()
	db := pgtest.New(t)
	if out := must(t, "migrate", "status", "--admin-url", db.OwnerURL()); !strings.Contains(out, "up to date") {
		t.Errorf("status printed %q", out)
	}
	if out := must(t, "migrate", "down", "--admin-url", db.OwnerURL()); !strings.Contains(out, "run: rockledger migrate up") {
		t.Errorf("down printed %q", out)
	}
	if _, err := command(t, "report", "overdue", "--group", "a", "--database-url", db.AppURL()); err == nil || !strings.Contains(err.Error(), "migrate up") {
		t.Errorf("report on an old schema: %v, want it to say what to run", err)
	}
	if out := must(t, "migrate", "up", "--admin-url", db.OwnerURL()); !strings.Contains(out, "up to date") {
		t.Errorf("up printed %q", out)
	}
}

func TestGroupAddRejects(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for want, args := range map[string][]string{
		"slug":      {"group", "add", "Fell End", s.admin},
		"time_zone": {"group", "add", "moor", "--time-zone", "Middle/Earth", s.admin},
		"fell-end":  {"group", "add", "fell-end", s.admin},
	} {
		if _, err := command(t, args...); err == nil || !strings.Contains(explain(err), want) {
			t.Errorf("%q: %v, want it to name %q", args, err, want)
		}
	}
}

// Whatever goes wrong is said once, with what to do about it and without what
// the database said.
func TestExplain(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	mapping := filepath.Join(t.TempDir(), "map.yaml")
	if err := os.WriteFile(mapping, []byte("columns: {Colour: sector, Hue: notes}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		args []string
		want string
	}{
		{
			"a slug that is taken",
			[]string{"group", "add", "fell-end", s.admin},
			"group fell-end: slug: This is there already. Give another, or use the one that is there.",
		},
		{
			"a group that is not there",
			[]string{"report", "overdue", "--group", "moor", s.app},
			`there is no group "moor" here: check how it is spelt, or add it with rockledger group add moor`,
		},
		{
			"a token for it",
			[]string{"token", "add", "--group", "moor", "--role", "reader", s.admin},
			`there is no group "moor" here: check how it is spelt, or add it with rockledger group add moor`,
		},
		{
			"headings that the list has not",
			[]string{"import", list("anchor-list.csv"), "--group", "fell-end", "--columns", mapping, s.app},
			"this cannot be right:\n" +
				"  columns.Colour: No column of the list is headed “Colour”: write the heading as it stands in the list, or take it out of the mapping file.\n" +
				"  columns.Hue: No column of the list is headed “Hue”: write the heading as it stands in the list, or take it out of the mapping file.",
		},
		{
			"a file that is no list",
			[]string{"import", os.DevNull, "--group", "fell-end", s.app},
			"file: The file is empty: send a list with its headings and one row per anchor.",
		},
		{
			"a day that is none",
			[]string{"report", "overdue", "--group", "fell-end", "--as-of", "soon", s.app},
			"--as-of: “soon”: No date can be read from this. Write it as year-month-day, for example 2026-05-03.",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			_, err := command(t, c.args...)
			if err == nil || explain(err) != c.want {
				t.Errorf("%q: %v, said as\n%s\nwant\n%s", c.args, err, explain(err), c.want)
			}
		})
	}
}

func TestTokenAdd(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	out := must(t, "token", "add", "--group", "fell-end", "--role", "recorder", "--name", "phone", s.admin)
	plain, rest, _ := strings.Cut(out, "\n")
	if len(plain) < 20 || !strings.Contains(rest, "shown once") {
		t.Errorf("token add printed %q", out)
	}
	var kept int
	if err := s.db.Owner().QueryRow(t.Context(), `SELECT count(*) FROM access_token WHERE name = 'phone' AND convert_to($1, 'UTF8') <> hash`, plain).Scan(&kept); err != nil || kept != 1 {
		t.Errorf("%d tokens kept, %v, want one, as a hash", kept, err)
	}
	if _, err := command(t, "token", "add", "--group", "moor", "--role", "reader", s.admin); fault.KindOf(err) != fault.NotFound {
		t.Errorf("token for no group: %v, want not found", err)
	}
}

func TestImport(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	args := []string{"import", list("anchor-list.csv"), "--group", "fell-end", s.app}
	if out := must(t, append(args, "--dry-run")...); !strings.Contains(out, "nothing entered") || !strings.Contains(out, wording.Caution) {
		t.Errorf("dry run printed %.300q", out)
	}
	for i, want := range []int{332, 0} {
		out := must(t, append(args, "--format", "json")...)
		var doc struct{ Entered int }
		decode(t, out, &doc)
		if doc.Entered != want {
			t.Errorf("import %d entered %d, want %d", i+1, doc.Entered, want)
		}
	}
}

func TestImportRejects(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	bad := filepath.Join(t.TempDir(), "bad.yaml")
	if err := os.WriteFile(bad, []byte("columns: {Bolt: no-such-field}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for want, args := range map[string][]string{
		"no-such-field": {"import", list("anchor-list.csv"), "--group", "fell-end", "--columns", bad, s.app},
		"moor":          {"import", list("anchor-list.csv"), "--group", "moor", s.app},
	} {
		if _, err := command(t, args...); err == nil || !strings.Contains(explain(err), want) {
			t.Errorf("%q: %v, want it to name %q", args, err, want)
		}
	}
	if _, err := command(t, "import", list("anchor-list.csv"), "--group", "fell-end", "--database-url", s.db.SuperURL()); err == nil || !strings.Contains(err.Error(), "superuser") {
		t.Errorf("import as a superuser: %v, want it refused", err)
	}
}

// Each report prints in each format, for today and for another day, and always
// with the caution.
func TestReport(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	must(t, "import", list("anchor-list.csv"), "--group", "fell-end", s.app)
	for _, name := range []string{"overdue", "suspect", "work", "land"} {
		for _, format := range []string{"table", "csv", "json"} {
			args := []string{"report", name, "--group", "fell-end", "--format", format, s.app}
			out := must(t, args...)
			if !strings.Contains(out, wording.Caution) {
				t.Errorf("%q: no caution in %.300q", args, out)
			}
			wellFormed(t, format, out)
		}
	}
	if out := must(t, "report", "overdue", "--group", "fell-end", "--as-of", "2031-05-03", s.app); !strings.Contains(out, "as of 3 May 2031") {
		t.Errorf("report as of another day printed %.300q", out)
	}
}

func wellFormed(t *testing.T, format, out string) {
	t.Helper()
	switch format {
	case "json":
		var doc map[string]any
		decode(t, out, &doc)
	case "csv":
		if _, err := csv.NewReader(strings.NewReader(out)).ReadAll(); err != nil {
			t.Errorf("csv %.300q: %v", out, err)
		}
	}
}

func TestReportLandOfOneLandowner(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	must(t, "import", list("anchor-list.csv"), "--group", "fell-end", s.app)
	args := []string{"report", "land", "--group", "fell-end", s.app, "--landowner", " overmoor  ESTATE", "--from", "2026-01-01"}
	short := must(t, args...)
	long := must(t, append(args, "--detail")...)
	if !strings.Contains(short, "Overmoor Estate: ") || strings.Contains(short, "Anchor by anchor") || !strings.Contains(long, "Anchor by anchor") {
		t.Errorf("land report of one landowner:\n%s", short)
	}
	for want, more := range map[string][]string{
		"no landowner is called": {"--landowner", "Nobody"},
		"--from":                 {"--from", "spring"},
		"--to":                   {"--to", "2026-02-30"},
	} {
		if _, err := command(t, append([]string{"report", "land", "--group", "fell-end", s.app}, more...)...); err == nil || !strings.Contains(explain(err), want) {
			t.Errorf("report land %q: %v, want it to say %q", more, err, want)
		}
	}
}

// A batch of the list is found by what is printed on it, however that is typed.
func TestTrace(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	must(t, "import", list("anchor-list.csv"), "--group", "fell-end", s.app)
	var text string
	if err := s.db.Owner().QueryRow(t.Context(), "SELECT min(text) FROM batch GROUP BY text_key HAVING count(*) = 1 ORDER BY 1 LIMIT 1").Scan(&text); err != nil {
		t.Fatal(err)
	}
	for _, format := range []string{"table", "csv", "json"} {
		out := must(t, "trace", " "+strings.ToLower(text), "--group", "fell-end", "--format", format, s.app)
		if !strings.Contains(out, wording.Caution) || !strings.Contains(out, text) {
			t.Errorf("trace as %s: %.300q, want batch %q and the caution", format, out, text)
		}
		wellFormed(t, format, out)
	}
	if _, err := command(t, "trace", "no such batch", "--group", "fell-end", s.app); err == nil || !strings.Contains(explain(err), "no batch is marked") {
		t.Errorf("trace of nothing: %v", err)
	}
}

func TestReportRejects(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for want, args := range map[string][]string{
		"--as-of": {"report", "work", "--group", "fell-end", "--as-of", "tomorrow", s.app},
		"as_of":   {"report", "work", "--group", "fell-end", "--as-of", "1066-10-14", s.app},
		"moor":    {"report", "work", "--group", "moor", s.app},
		"URL":     {"report", "work", "--group", "fell-end", "--database-url", "postgres://%zz"},
	} {
		if _, err := command(t, args...); err == nil || !strings.Contains(explain(err), want) {
			t.Errorf("%q: %v, want it to name %q", args, err, want)
		}
	}
}

func TestHelp(t *testing.T) {
	t.Parallel()
	out := must(t, "--help")
	for _, want := range []string{"demo", "serve", "migrate", "group add", "token add", "import", "report land", "corrosion"} {
		if !strings.Contains(out, want) {
			t.Errorf("help lacks %q:\n%s", want, out)
		}
	}
}

func TestWrongArguments(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{nil, {"climb"}, {"serve"}, {"demo", "--print", "xml"}, {"report"}} {
		if out, err := command(t, args...); err == nil {
			t.Errorf("%q printed %q, want an error", args, out)
		}
	}
}

// A command ends with its context: serve drains and returns no error.
func TestServeStops(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	ctx, stop := context.WithCancel(t.Context())
	out := &waiting{want: "serves on http://127.0.0.1:", found: stop}
	if err := run(ctx, []string{"serve", "--addr", "127.0.0.1:0", s.app}, out, &bytes.Buffer{}); err != nil {
		t.Errorf("serve: %v", err)
	}
	if ctx.Err() == nil {
		t.Error("serve ended before it was stopped")
	}
}

// waiting calls found once what it was given to write holds want.
type waiting struct {
	bytes.Buffer
	want  string
	found func()
}

func (w *waiting) Write(p []byte) (int, error) {
	n, err := w.Buffer.Write(p)
	if strings.Contains(w.String(), w.want) {
		w.found()
	}
	return n, err
}

func decode(t *testing.T, text string, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), into); err != nil {
		t.Fatalf("decode %.300q: %v", text, err)
	}
}
