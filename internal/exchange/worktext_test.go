package exchange_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

var (
	newAnchor = registry.KitLine{Kind: registry.KitAnchor, Form: registry.TwistedLeg, Metal: metal.NewSet("1.4404"), Count: 1}
	newRing   = registry.KitLine{Kind: registry.KitFitting, Fitting: registry.Ring, Count: 2}
)

func workReport() report.Work {
	o := overdueReport()
	return report.Work{
		Heading: o.Heading, Kit: []registry.KitLine{newAnchor, newRing}, Replace: 1, Repair: 1,
		Items: []registry.WorkItem{
			{Line: o.Lines[0], Do: registry.WorkReplace, For: o.Lines[0].Assessment.Findings[:1], Bring: []registry.KitLine{newAnchor, newRing}},
			{Line: o.Lines[1], Do: registry.WorkRepair},
		},
	}
}

func landReport() report.Land {
	o := overdueReport()
	on := calendar.NewDate(2026, 5, 3)
	return report.Land{
		Heading: o.Heading, From: calendar.NewDate(2025, 11, 26), To: today, Detail: true,
		Owners: []report.LandOwner{
			{
				ID: &anchorID, Name: "=Mill Farm", Parcels: []registry.Parcel{{Name: "Long Meadow"}}, Anchors: 2,
				ByStanding: map[registry.Standing]int{registry.StandingWatch: 2},
				Problems:   []report.LandProblem{{Rule: "loose-nut", Severity: registry.Watch, Anchors: 2, Settled: 1, Inspected: 1}},
				Work:       []report.LandWork{{Kind: "inspection", Count: 3}},
				Agreements: []registry.Agreement{{
					Kind: registry.Permission, Issuer: "=Mill Farm", Conditions: "Shut the gate.", From: calendar.NewDate(2020, 5, 1),
				}},
				Restrictions: []registry.Restriction{nesting},
				Lines: []report.LandLine{{
					Line: o.Lines[0],
					Work: []registry.LandRecord{{Kind: "inspection", DoneOn: calendar.Exactly(on), Verdict: registry.Keep}},
				}},
			},
			{Anchors: 0},
		},
	}
}

func TestWriteWorkCSV(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	r := workReport()
	if err := exchange.WriteWorkCSV(&b, r); err != nil {
		t.Fatal(err)
	}
	got := readCSV(t, b.String())
	want := []string{
		"replace", "this-year", "watch", "2026-05-02", "'=Low Tor", "Left", "'-Groove", "'@B1", "'+Farm",
		wording.Finding(r.Items[0].For[0]), wording.Kit(newAnchor) + "; " + wording.Kit(newRing),
		"2026-01-31", wording.Restriction(nesting), anchorID.String(), wording.Caution,
	}
	if diff := cmp.Diff(want, got[1]); diff != "" {
		t.Errorf("row one (-want +got):\n%s", diff)
	}
	if got[0][0] != "do" || got[0][10] != "bring" || got[2][14] != "" {
		t.Errorf("headings %v, caution in row two %q", got[0], got[2][14])
	}
}

func TestWriteWorkTable(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := exchange.WriteWorkTable(&b, workReport()); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Work list: group hollow-hill", "1 to replace, 1 to repair, 0 to inspect", "To bring for all of it:\n  " + wording.Kit(newAnchor) + "\n",
		"Replace", "=Low Tor, Left, -Groove, @B1", "the last open day was 31 January 2026.",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("table lacks %q:\n%s", want, b.String())
		}
	}
}

func TestWriteLandCSV(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	r := landReport()
	if err := exchange.WriteLandCSV(&b, r); err != nil {
		t.Fatal(err)
	}
	var parts []string
	got := readCSV(t, b.String())
	for _, row := range got[1:] {
		parts = append(parts, row[1])
		if row[0] != "'=Mill Farm" {
			t.Errorf("row %v does not name its landowner", row)
		}
	}
	if diff := cmp.Diff([]string{"standing", "problem", "work", "agreement", "restriction", "anchor"}, parts); diff != "" {
		t.Errorf("parts (-want +got):\n%s", diff)
	}
	want := []string{"'=Mill Farm", "problem", "loose-nut", "2", "0", "0", "1", "0", "1", "0", "", "", "Loose nut", "", ""}
	if diff := cmp.Diff(want, got[2]); diff != "" {
		t.Errorf("row of the problem (-want +got):\n%s", diff)
	}
	for _, want := range []string{"Watch.", "Inspect by 2 May 2026: overdue.", "(Settled.)", "Inspected on 3 May 2026; verdict: keep."} {
		if !strings.Contains(got[6][12], want) {
			t.Errorf("details of the anchor %q lack %q", got[6][12], want)
		}
	}
}

func TestWriteLandTable(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := exchange.WriteLandTable(&b, landReport()); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Period: 26 November 2025 to 25 November 2026", "=Mill Farm: 2 anchors in the rock on Long Meadow", "2 to watch",
		"Loose nut", "3 inspections", "Shut the gate.", wording.Restriction(nesting), "Inspected on 3 May 2026",
		"Land whose owner is not known: 0 anchors in the rock", "none on record. That is not a clean bill of health.",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("table lacks %q:\n%s", want, b.String())
		}
	}
}
