package config_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/alecthomas/kong"

	"rockledger/internal/config"
)

// parse reads a command line with neither database in the environment; so its
// tests cannot run in parallel.
func parse(t *testing.T, args ...string) (*config.Command, string, error) {
	t.Helper()
	t.Setenv("ROCKLEDGER_DATABASE_URL", "")
	t.Setenv("ROCKLEDGER_ADMIN_URL", "")
	for _, name := range []string{"ROCKLEDGER_DATABASE_URL", "ROCKLEDGER_ADMIN_URL"} {
		if err := os.Unsetenv(name); err != nil {
			t.Fatal(err)
		}
	}
	return config.Parse(args, kong.Writers(&bytes.Buffer{}, &bytes.Buffer{}))
}

func TestParse(t *testing.T) {
	list := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(list, []byte("bolt\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for want, args := range map[string][]string{
		"demo":            {"demo", "--data", t.TempDir(), "--print", "json", "--addr", "127.0.0.1:0"},
		"serve":           {"serve", "--database-url", "postgres://a"},
		"migrate":         {"migrate", "status", "--admin-url", "postgres://a"},
		"group add":       {"group", "add", "fell-end", "--admin-url", "postgres://a"},
		"token add":       {"token", "add", "--group", "fell-end", "--role", "reader", "--admin-url", "postgres://a"},
		"account add":     {"account", "add", "a@example.org", "--group", "fell-end", "--role", "owner", "--admin-url", "postgres://a"},
		"account list":    {"account", "list", "--group", "fell-end", "--admin-url", "postgres://a"},
		"import":          {"import", list, "--group", "fell-end", "--database-url", "postgres://a", "--dry-run"},
		"report overdue":  {"report", "overdue", "--group", "fell-end", "--database-url", "postgres://a", "--as-of", "2026-05-03"},
		"report suspect":  {"report", "suspect", "--group", "fell-end", "--database-url", "postgres://a", "--format", "csv"},
		"report work":     {"report", "work", "--group", "fell-end", "--database-url", "postgres://a"},
		"report land":     {"report", "land", "--group", "fell-end", "--database-url", "postgres://a", "--landowner", "Mill Farm", "--from", "2025-01-01", "--detail"},
		"hold add":        {"hold", "add", "--group", "fell-end", "--over", "all", "--reason", "a claim", "--database-url", "postgres://a"},
		"hold lift":       {"hold", "lift", "x", "--group", "fell-end", "--database-url", "postgres://a"},
		"hold list":       {"hold", "list", "--group", "fell-end", "--database-url", "postgres://a"},
		"landowner erase": {"landowner", "erase", "x", "--group", "fell-end", "--reason", "asked to", "--database-url", "postgres://a"},
		"trace":           {"trace", "L1709-A", "--group", "fell-end", "--database-url", "postgres://a"},
		"bench":           {"bench", "--anchors", "10000,1000000", "--rounds", "5"},
		"mortar":          {"mortar", "--hole-diameter", "1/2 in", "--hole-depth", "85", "--embedded", "80", "--shank-diameter", "10"},
		"corrosion":       {"corrosion", "--temperature", "10", "--humidity", "75", "--sulphur-dioxide", "5", "--chloride", "3"},
	} {
		if _, got, err := parse(t, args...); err != nil || got != want {
			t.Errorf("Parse(%q) = %q, %v, want %q", args, got, err, want)
		}
	}
}

func TestParseDefaults(t *testing.T) {
	c, _, err := parse(t, "serve", "--database-url", "postgres://a")
	if err != nil {
		t.Fatal(err)
	}
	if c.Serve.Addr != "127.0.0.1:8080" || c.Serve.RefreshEvery != time.Minute {
		t.Errorf("serve = %+v, want loopback and every minute", c.Serve)
	}
	if c, _, err = parse(t, "report", "work", "--group", "a", "--database-url", "b"); err != nil || c.Report.Work.Format != "table" {
		t.Errorf("report work = %+v, %v, want a table", c.Report.Work, err)
	}
}

func TestParseReadsTheEnvironment(t *testing.T) {
	t.Setenv("ROCKLEDGER_DATABASE_URL", "postgres://a")
	c, _, err := config.Parse([]string{"serve"})
	if err != nil || c.Serve.DatabaseURL != "postgres://a" {
		t.Errorf("serve = %+v, %v, want the URL of the environment", c.Serve, err)
	}
}

// A variable that was exported without a value names no database.
func TestParseRefusesAnEmptyDatabase(t *testing.T) {
	t.Setenv("ROCKLEDGER_DATABASE_URL", "")
	t.Setenv("ROCKLEDGER_ADMIN_URL", "")
	for want, args := range map[string][]string{"ROCKLEDGER_DATABASE_URL": {"serve"}, "ROCKLEDGER_ADMIN_URL": {"migrate", "status"}} {
		if _, _, err := config.Parse(args); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Parse(%q) with nothing in %s: %v, want it to say so", args, want, err)
		}
	}
}

// A demo writes into no database that only the environment names.
func TestParseDemoPassesOverTheEnvironment(t *testing.T) {
	t.Setenv("ROCKLEDGER_DATABASE_URL", "postgres://a")
	t.Setenv("ROCKLEDGER_ADMIN_URL", "postgres://b")
	c, _, err := config.Parse([]string{"demo"})
	if err != nil || c.Demo.DatabaseURL != "" || c.Demo.AdminURL != "" {
		t.Errorf("demo = %+v, %v, want a private database", c.Demo, err)
	}
}

func TestParseCorrosion(t *testing.T) {
	c, _, err := parse(t, "corrosion", "--temperature=-2.5", "--humidity=75", "--sulphur-dioxide=5", "--chloride=3")
	if err != nil {
		t.Fatal(err)
	}
	if c.Corrosion.Temperature != -2.5 || c.Corrosion.Years != nil || c.Corrosion.Format != "text" {
		t.Errorf("corrosion = %+v, want -2.5 degrees, no years, text", c.Corrosion)
	}
	c, _, err = parse(t, "corrosion", "--temperature=10", "--humidity=75", "--sulphur-dioxide=5", "--chloride=3", "--years=0")
	if err != nil || c.Corrosion.Years == nil || *c.Corrosion.Years != 0 {
		t.Errorf("corrosion --years=0 = %+v, %v, want none told apart from 0", c.Corrosion, err)
	}
}

// Each refusal names what is wrong.
func TestParseRejects(t *testing.T) {
	for want, args := range map[string][]string{
		"expected one of":         {},
		"unexpected argument":     {"climb"},
		"--database-url":          {"serve"},
		"--admin-url":             {"migrate", "up"},
		"must be one of":          {"migrate", "sideways", "--admin-url", "a"},
		"--role must be one of":   {"token", "add", "--group", "a", "--role", "king", "--admin-url", "a"},
		"--role=STRING":           {"account", "add", "a@example.org", "--group", "a", "--admin-url", "a"},
		"unknown flag --password": {"account", "add", "a@example.org", "--group", "a", "--role", "reader", "--password", "x", "--admin-url", "a"},
		"sizes of one anchor":     {"bench", "--anchors", "0", "--list", "F"},
		"no-such-list.csv":        {"import", "no-such-list.csv", "--group", "a", "--database-url", "a"},
		"--format must be":        {"report", "work", "--group", "a", "--database-url", "a", "--format", "pdf"},
		"unknown flag --detail":   {"report", "overdue", "--group", "a", "--database-url", "a", "--detail"},
		"unknown flag --as-of":    {"report", "land", "--group", "a", "--database-url", "a", "--as-of", "2026-05-03"},
		"--chloride=MG":           {"corrosion", "--temperature", "10", "--humidity", "75", "--sulphur-dioxide", "5"},
		`try --temperature="-2"`:  {"corrosion", "--temperature", "-2", "--humidity", "75", "--sulphur-dioxide", "5", "--chloride", "3"},
		"--humidity: expected a":  {"corrosion", "--temperature", "10", "--humidity", "wet", "--sulphur-dioxide", "5", "--chloride", "3"},
	} {
		if _, _, err := parse(t, args...); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Parse(%q) = %v, want it to say %q", args, err, want)
		}
	}
}

func TestParseHelp(t *testing.T) {
	var out bytes.Buffer
	exited := false
	_, _, _ = config.Parse([]string{"report", "--help"}, kong.Writers(&out, &out), kong.Exit(func(int) { exited = true }))
	for _, want := range []string{"report overdue", "report suspect", "report work", "report land"} {
		if !exited || !strings.Contains(out.String(), want) {
			t.Errorf("help of report lacks %q:\n%s", want, out.String())
		}
	}
}

// A flag that is missing is told with the variable that can take its place.
func TestParseNamesTheEnvironment(t *testing.T) {
	_, _, err := parse(t, "report", "overdue", "--group", "fell-end")
	if err == nil || !strings.Contains(err.Error(), "ROCKLEDGER_DATABASE_URL") || strings.Contains(err.Error(), "ROCKLEDGER_ADMIN_URL") {
		t.Errorf("Parse without a database: %v, want it to name ROCKLEDGER_DATABASE_URL", err)
	}
	if _, _, err := parse(t, "report", "overdue", "--database-url", "postgres://a"); err == nil || strings.Contains(err.Error(), "ROCKLEDGER") {
		t.Errorf("Parse without a group: %v, want it to name no variable", err)
	}
}

// Pictures in a folder want one; a folder that would not be used is a mistake.
func TestParsePictures(t *testing.T) {
	serve := []string{"serve", "--database-url", "postgres://a"}
	for _, c := range []struct {
		args []string
		want string // blank: taken
	}{
		{nil, ""},
		{[]string{"--pictures", "postgres"}, ""},
		{[]string{"--pictures", "folder", "--pictures-dir", "/srv/pictures"}, ""},
		{[]string{"--pictures", "folder"}, "ROCKLEDGER_PICTURES_DIR"},
		{[]string{"--pictures-dir", "/srv/pictures"}, "ROCKLEDGER_PICTURES=folder"},
		{[]string{"--pictures", "cloud"}, "postgres"},
	} {
		_, _, err := parse(t, append(serve[:len(serve):len(serve)], c.args...)...)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%v: %v, want %q", c.args, err, c.want)
		}
	}
	t.Setenv("ROCKLEDGER_PICTURES", "folder")
	t.Setenv("ROCKLEDGER_PICTURES_DIR", "/srv/pictures")
	if c, _, err := parse(t, serve...); err != nil || c.Serve.Pictures.Pictures != "folder" || c.Serve.PicturesDir != "/srv/pictures" {
		t.Errorf("from the environment: %+v, %v", c.Serve.Pictures, err)
	}
}
