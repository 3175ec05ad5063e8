package exchange_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

var anchorID = uuid.MustParse("01939d5c-0000-7000-8000-000000000001")

var nesting = registry.Restriction{
	Kind: registry.NoClimbing, Weight: registry.ByRequest, Why: "nesting birds",
	Yearly: &calendar.Window{FromMonth: 2, FromDay: 1, ToMonth: 6, ToDay: 30},
}

func overdueReport() report.Overdue {
	a := registry.Assessment{
		AnchorID: anchorID, AsOf: today, Standing: registry.StandingWatch, DueState: registry.Overdue, Band: registry.BandThisYear,
		DueOn: calendar.NewDate(2026, 5, 2), SoonestOn: calendar.NewDate(2026, 5, 2),
		Findings: []registry.Finding{{Rule: "rust", Severity: registry.Watch}, {Rule: "loose-nut", Severity: registry.Watch, SettledBy: &anchorID}},
	}
	place := registry.AnchorLine{Site: "=Low Tor", Sector: "Left", Route: "-Groove", Label: "@B1"}
	return report.Overdue{
		Heading: report.Heading{Group: "hollow-hill", AsOf: today, RulesVersion: 3},
		Lines: []registry.ReportLine{{
			Place: place, Landowner: "+Farm", Assessment: a, Restrictions: []registry.Restriction{nesting}, LastOpenDay: calendar.NewDate(2026, 1, 31),
		}, {Place: registry.AnchorLine{Site: "Tor\n2"}, Assessment: a}},
		Overdue: 2,
	}
}

func suspectReport() report.Suspect {
	o := overdueReport()
	return report.Suspect{Heading: o.Heading, Lines: o.Lines, Suspect: 2}
}

func readCSV(t *testing.T, text string) [][]string {
	t.Helper()
	table, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func TestWriteOverdueCSV(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	r := overdueReport()
	if err := exchange.WriteOverdueCSV(&b, r); err != nil {
		t.Fatal(err)
	}
	got := readCSV(t, b.String())
	want := []string{
		"overdue", "2026-05-02", "2026-05-02", "this-year", "watch", "'=Low Tor", "Left", "'-Groove", "'@B1", "'+Farm",
		wording.Reason(r.Lines[0].Assessment), "2026-01-31", wording.Restriction(nesting), anchorID.String(), wording.Caution,
	}
	if len(got) != 3 || got[2][len(want)-1] != "" {
		t.Fatalf("%d records, caution %q in row two, want headings, two rows, and the caution once", len(got), got[2][len(want)-1])
	}
	if diff := cmp.Diff(want, got[1]); diff != "" {
		t.Errorf("row one (-want +got):\n%s", diff)
	}
	if got[0][0] != "due_state" || got[0][len(want)-1] != "caution" {
		t.Errorf("headings %v", got[0])
	}
}

func TestWriteSuspectCSV(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	r := suspectReport()
	if err := exchange.WriteSuspectCSV(&b, r); err != nil {
		t.Fatal(err)
	}
	got := readCSV(t, b.String())
	list := r.Lines[0].Assessment.Findings
	want := []string{
		"watch", "this-year", "overdue", "2026-05-02", "'=Low Tor", "Left", "'-Groove", "'@B1", "'+Farm",
		wording.Finding(list[0]) + " " + wording.Finding(list[1]) + " (Settled.)",
		"2026-01-31", wording.Restriction(nesting), anchorID.String(), wording.Caution,
	}
	if diff := cmp.Diff(want, got[1]); diff != "" {
		t.Errorf("row one (-want +got):\n%s", diff)
	}
}

func TestEmptyReportsHoldTheCaution(t *testing.T) {
	t.Parallel()
	var overdue, suspect, work, land, table, workTable, landTable bytes.Buffer
	err := errors.Join(
		exchange.WriteOverdueCSV(&overdue, report.Overdue{}), exchange.WriteSuspectCSV(&suspect, report.Suspect{}),
		exchange.WriteWorkCSV(&work, report.Work{}), exchange.WriteLandCSV(&land, report.Land{}),
		exchange.WriteOverdueTable(&table, report.Overdue{}), exchange.WriteWorkTable(&workTable, report.Work{}), exchange.WriteLandTable(&landTable, report.Land{}),
	)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{overdue.String(), suspect.String(), work.String(), land.String()} {
		got := readCSV(t, text)
		if len(got) != 2 || strings.Join(got[1], "") != wording.Caution || got[1][len(got[1])-1] != wording.Caution {
			t.Errorf("csv %q, want headings and one row with the caution alone", text)
		}
	}
	for _, text := range []string{table.String(), workTable.String(), landTable.String()} {
		if !strings.HasSuffix(text, wording.Caution+"\n") {
			t.Errorf("table %q, want the caution at its end", text)
		}
	}
}

func TestWriteTables(t *testing.T) {
	t.Parallel()
	r := overdueReport()
	r.Heading.Recomputed = true
	var overdue, suspect bytes.Buffer
	if err := errors.Join(exchange.WriteOverdueTable(&overdue, r), exchange.WriteSuspectTable(&suspect, suspectReport())); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"group hollow-hill, as of 25 November 2026, house rules version 3", "inventory and house rules as they stand today",
		"2 overdue, 0 awaiting their first round", "2 May 2026", "=Low Tor, Left, -Groove, @B1", "Tor 2",
		"No climbing from 1 February to 30 June every year", "the last open day was 31 January 2026.",
	} {
		if !strings.Contains(overdue.String(), want) {
			t.Errorf("overdue table lacks %q:\n%s", want, overdue.String())
		}
	}
	if got := suspect.String(); strings.Contains(got, "Recomputed") || !strings.Contains(got, "0 out of use, 2 suspect") || !strings.HasSuffix(got, wording.Caution+"\n") {
		t.Errorf("suspect table:\n%s", got)
	}
}

func TestWriteImportText(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	err := exchange.WriteImportText(&b, report.Import{
		FileName: "list\x1b[2J.csv", Encoding: "UTF-8", Delimiter: ";", DryRun: true, Rows: 5, Entered: 3, Duplicates: 1, Refused: 1,
		Columns:       []report.Column{{Heading: "Fitted", Field: "set_on"}, {Heading: "Colour"}},
		Doubts:        []registry.Doubt{{Line: 12, Column: "Fitted", Text: "31/02/2012", Code: registry.DoubtNoSuchDay}},
		Refusals:      []registry.Doubt{{Line: 13, Text: "B1", Code: registry.RefusedSpotRepeated, Values: registry.Values{{Name: "line", Text: "4"}}}},
		DuplicateRows: []report.Repeat{{Line: 9, Of: 8}},
		Changed:       1, Clashes: 1,
		ChangedCells:  []report.CellChange{{Line: 14, Column: "Fitted", Place: "Fell End, B1", From: "2012", To: "2014"}},
		ClashingCells: []report.CellClash{{CellChange: report.CellChange{Line: 15, Column: "Dia", Place: "Fell End, B2", From: "10"}, Register: "11 mm"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"nothing entered", "separated by semicolons", "entered      3", "Fitted: set_on", "Colour: kept as written, not read", "line 9, like line 8",
		`line 12, column Fitted: "31/02/2012": there is no such day. Left as not known`, `line 13: "B1": line 4 says something else`, wording.Caution,
		"changed      1", "clashes      1", "line 14, column Fitted, Fell End, B1: “2014” instead of “2012”",
		"line 15, column Dia, Fell End, B2: the list before had “10”, this one has nothing, and the register says “11 mm” by now.",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("text lacks %q:\n%s", want, b.String())
		}
	}
	if strings.Contains(b.String(), "\x1b") {
		t.Error("text holds a control character of the list")
	}
}

// broken fails every write.
type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("no room") }

func TestWritersReportFailure(t *testing.T) {
	t.Parallel()
	for i, err := range []error{
		exchange.WriteOverdueCSV(broken{}, overdueReport()), exchange.WriteSuspectCSV(broken{}, suspectReport()),
		exchange.WriteOverdueTable(broken{}, overdueReport()), exchange.WriteSuspectTable(broken{}, suspectReport()),
		exchange.WriteWorkCSV(broken{}, workReport()), exchange.WriteWorkTable(broken{}, workReport()),
		exchange.WriteLandCSV(broken{}, landReport()), exchange.WriteLandTable(broken{}, landReport()),
		exchange.WriteCorrosionText(broken{}, report.Corrosion{}),
		exchange.WriteImportText(broken{}, report.Import{}),
	} {
		if err == nil {
			t.Errorf("writer %d: no error, want one", i)
		}
	}
}
