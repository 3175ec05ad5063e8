package exchange

import (
	"math"
	"strings"
	"testing"

	"rockledger/internal/registry"
)

// What words mean is common practice, no source.

func TestReadForm(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		form registry.Form
		ok   bool
	}{
		{"expansion + hanger", registry.ExpansionBolt, true},
		{"through bolt", registry.ThroughBolt, true},
		{"throughbolt/hanger", registry.ThroughBolt, true},
		{"10mm Through-Bolt", registry.ThroughBolt, true},
		{"wedge anchor", registry.WedgeAnchor, true},
		{"sleeve anchor", registry.SleeveAnchor, true},
		{"sleeve", registry.SleeveAnchor, true},
		{"staple", registry.Staple, true},
		{"U-bolt", registry.Staple, true},
		{"glue-in eye", registry.SingleShank, true},
		{"resin ring", registry.SingleShank, true},
		{"twisted leg glue-in", registry.TwistedLeg, true},
		{"resin bolt", registry.GlueIn, true},
		{"glue in", registry.GlueIn, true},
		{"bonded", registry.GlueIn, true},
		{"glued-in stud", registry.BondedStud, true},
		{"threaded rod, resin", registry.BondedStud, true},
		{"concrete screw", registry.ConcreteScrew, true},
		{"self drilling sleeve", registry.SelfDrillSleeve, true},
		{"drive-in", registry.DriveIn, true},
		{"peg", registry.Piton, true},
		{"bolt", "", true},
		{"old hanger", "", true},
		{"M10 bolt", "", true},
		{"glued wedge anchor", "", false},
		{"sling round tree", "", false},
	} {
		if form, ok := readForm(c.text, false); form != c.form || ok != c.ok {
			t.Errorf("readForm(%q) = %q, %v, want %q, %v", c.text, form, ok, c.form, c.ok)
		}
	}
	if form, _ := readForm("sleeve", true); form != registry.SelfDrillSleeve {
		t.Errorf("readForm(sleeve) in a cave = %q, want %q", form, registry.SelfDrillSleeve)
	}
}

func TestHasHanger(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{
		"expansion + hanger": true, "throughbolt/hanger": true, "wedge w/ hanger": true, "wedge anchor": false,
		"stud, no hanger": false, "wedge, hanger missing": false, "hangerless stud": false,
	} {
		if got := hasHanger(text); got != want {
			t.Errorf("hasHanger(%q) = %v, want %v", text, got, want)
		}
	}
}

func TestReadState(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text  string
		state registry.ListState
		ok    bool
	}{
		{"ok", registry.StateOK, true},
		{" OK. ", registry.StateOK, true},
		{"good", registry.StateOK, true},
		{"Fine", registry.StateOK, true},
		{"no rust", registry.StateOK, true},
		{"", "", true},
		{"?", "", true},
		{"spins", registry.StateSpins, true},
		{"spinner", registry.StateSpins, true},
		{"bolt rotates", registry.StateSpins, true},
		{"loose", registry.StateSpins, true},
		{"loose nut", registry.StateLooseNut, true},
		{"rusty", registry.StateRusty, true},
		{"surface rust", registry.StateSurfaceRust, true},
		{"slightly rusty", registry.StateSurfaceRust, true},
		{"cracked glue", registry.StateCrackedGlue, true},
		{"resin cracked", registry.StateCrackedGlue, true},
		{"hanger bent", registry.StateHangerBent, true},
		{"REMOVED", registry.StateRemoved, true},
		{"gone", registry.StateRemoved, true},
		{"not found", registry.StateNotFound, true},
		{"missing", registry.StateNotFound, true},
		{"replaced 2019", registry.StateReplaced, true},
		{"was replaced in May 2019", registry.StateReplaced, true},
		{"replaced 12/05/2019", registry.StateReplaced, true},
		{"rusty, loose nut", registry.StateLooseNut, true},
		{"ok/surface rust", registry.StateSurfaceRust, true},
		{"ok but rusty", registry.StateRusty, true},
		{"ok, odd colour", registry.StateOther, false},
		{"spins, odd colour", registry.StateSpins, false},
		{"to be discussed", registry.StateOther, false},
		{"hanger removed", registry.StateOther, false},
		{"surface rust, odd colour", registry.StateOther, false},
		{"ok?", registry.StateOther, false},
		{"-, ?", "", true},
		{"not loose", registry.StateOK, true},

		{"do not use", registry.StateUnsafe, true},
		{"DANGEROUS", registry.StateUnsafe, true},
		{"condemned", registry.StateUnsafe, true},
		{"out of use", registry.StateUnsafe, true},
		{"snapped", registry.StateUnsafe, true},
		{"bolt failed", registry.StateUnsafe, true},
		{"unsafe", registry.StateUnsafe, true},
		{"cracked", registry.StateUnsafe, true},
		{"corroded through", registry.StateUnsafe, true},
		{"not ok", registry.StateUnsafe, true},
		{"bad", registry.StateUnsafe, true},
		{"poor", registry.StateUnsafe, true},
		{"needs replacing", registry.StateUnsafe, true},
		{"replace soon", registry.StateUnsafe, true},
		{"to be replaced 2027", registry.StateUnsafe, true},
		{"nut missing", registry.StateUnsafe, true},
		{"hanger missing", registry.StateUnsafe, true},
		{"taped off", registry.StateUnsafe, true},
		{"retired", registry.StateUnsafe, true},
		{"out", registry.StateUnsafe, true},
		{"pulled", registry.StateUnsafe, true},
		{"stripped", registry.StateUnsafe, true},
		{"spins badly, hanger gone", registry.StateSpins, true},
		{"glue badly cracked", registry.StateCrackedGlue, true},
		{"hanger slightly bent", registry.StateHangerBent, true},
		{"nut a bit loose", registry.StateLooseNut, true},
		{"very loose", registry.StateUnsafe, true},
		{"ok, do not use", registry.StateUnsafe, true},
		{"surface rust, unsafe", registry.StateUnsafe, true},
		{"not found, was spinning", registry.StateSpins, true},
		{"unsafe, odd colour", registry.StateUnsafe, false},
		{"removed, hole filled", registry.StateRemoved, false},

		{"replaced hanger 2019", registry.StateOther, false},
		{"replaced nut", registry.StateOther, false},
		{"replaced maillon 2020", registry.StateOther, false},
		{"replaced because cracked", registry.StateUnsafe, true},
		{"replaced", registry.StateReplaced, true},
		{"replaced ?", registry.StateReplaced, true},
		{"replaced (2019)", registry.StateReplaced, true},
		{"replaced by new bolt 2019", registry.StateReplaced, true},
		{"replaced 31/02/2019", registry.StateReplaced, true},
		{"replaced, 2019", registry.StateReplaced, true},
		{"rusty, replaced 2019", registry.StateReplaced, true},
		{"replaced 2019, spins", registry.StateReplaced, true},
	} {
		if got, ok := readState(c.text); got.state != c.state || ok != c.ok {
			t.Errorf("readState(%q) = %q, %v, want %q, %v", c.text, got.state, ok, c.state, c.ok)
		}
	}
}

func TestReadStateAfterReplaced(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text, date string
		next       registry.ListState
		guessed    bool
	}{
		{"replaced 2019", "2019", "", false},
		{"replaced, 2019", "2019", "", false},
		{"spins, replaced 2019", "2019", "", false}, // the old one spun
		{"replaced 2019, ok", "2019", registry.StateOK, false},
		{"replaced 2019, spins", "2019", registry.StateSpins, true},
		{"replaced 2019. Do not use", "2019", registry.StateUnsafe, true},
		{"replaced 2019, surface rust, loose nut", "2019", registry.StateLooseNut, true},
		{"replaced 2019, removed", "2019", registry.StateOther, true},
		{"replaced 2019, odd colour", "2019", registry.StateOther, true},
	} {
		got, _ := readState(c.text)
		if got.state != registry.StateReplaced || got.date != c.date || got.next != c.next || got.guessed != c.guessed {
			t.Errorf("readState(%q) = %+v, want replaced %s, then %q, guessed %v", c.text, got, c.date, c.next, c.guessed)
		}
	}
}

func TestRoleOf(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]registry.PositionRole{
		"belay L": registry.Belay, "rebelay 2": registry.Rebelay, "lower-off": registry.LowerOff, "deviation": registry.Deviation,
		"traverse 3": registry.Traverse, "Main hang": registry.MainHang, "back-up": registry.Backup, "Y hang left": registry.YHangLeg,
		"handline": registry.Handline, "B1": "", "": "", "aidan": "",
	} {
		if got := roleOf(text); got != want {
			t.Errorf("roleOf(%q) = %q, want %q", text, got, want)
		}
	}
}

func TestReadSiteKind(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]registry.SiteKind{
		"Cave": registry.Cave, "sea cliff": registry.SeaCliff, "sea-cliff": registry.SeaCliff, "old quarry": registry.Quarry,
		"inland crag": registry.Crag, "hill": "",
	} {
		if got, ok := readSiteKind(text); got != want || ok != (want != "") {
			t.Errorf("readSiteKind(%q) = %q, %v, want %q", text, got, ok, want)
		}
	}
}

// The values are the written degrees, minutes and seconds added up by hand.
func TestReadDegrees(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		want float64
		axis byte
		ok   bool
	}{
		{"54.21334", 54.21334, 0, true},
		{"54,21334", 54.21334, 0, true},
		{"-2.338", -2.338, 0, true},
		{"−2.338", -2.338, 0, true},
		{"54°12.741'N", 54.21235, 'N', true},
		{"2°20.274'W", -2.3379, 'E', true},
		{"54º 12′ 30″ N", 54.2083333, 'N', true},
		{"N54 12.741", 54.21235, 'N', true},
		{"54 12 30", 54.2083333, 0, true},
		{"2.338W", -2.338, 'E', true},
		{"S 33", -33, 'N', true},
		{"54°61'N", 0, 0, false},
		{"54.5°30'", 0, 0, false},
		{"-2.3W", 0, 0, false},
		{"181", 0, 0, false},
		{"SD 72 71", 0, 0, false},
		{"", 0, 0, false},
		{strings.Repeat("5", 60), 0, 0, false},
	} {
		d, ok := readDegrees(c.text)
		if ok != c.ok || math.Abs(d.value-c.want) > 1e-6 || d.axis != c.axis {
			t.Errorf("readDegrees(%q) = %v, %v, want %v, %v", c.text, d, ok, c.want, c.ok)
		}
	}
}

func TestReadPair(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text     string
		lat, lon float64
		ok       bool
	}{
		{"54.2, -2.3", 54.2, -2.3, true},
		{"54.2 -2.3", 54.2, -2.3, true},
		{"54,2134; -2,3380", 54.2134, -2.338, true},
		{"54,2134, -2,3380", 54.2134, -2.338, true},
		{"(54.2,-2.3)", 54.2, -2.3, true},
		{"54°12.741'N 2°20.274'W", 54.21235, -2.3379, true},
		{"54 12.741 N, 2 20.274 W", 54.21235, -2.3379, true},
		{"2.3W 54.2N", 54.2, -2.3, true},
		{"54.2", 0, 0, false},
		{"54.2N 53.1N", 0, 0, false},
		{"54, 2, 30", 0, 0, false},
		{strings.Repeat("5 ", 60), 0, 0, false},
	} {
		lat, lon, ok := readPair(c.text)
		if ok != c.ok || ok && math.Abs(lat.value-c.lat) > 1e-6 || ok && math.Abs(lon.value-c.lon) > 1e-6 {
			t.Errorf("readPair(%q) = %v, %v, %v, want %v, %v, %v", c.text, lat.value, lon.value, ok, c.lat, c.lon, c.ok)
		}
	}
}

// A phrase that is not written as headings are folded would never be found.
func TestPhrasesAreFolded(t *testing.T) {
	t.Parallel()
	for phrase, list := range meanings {
		if got := strings.Join(readHeading(phrase).words, " "); got != phrase {
			t.Errorf("phrase %q is folded to %q", phrase, got)
		}
		for i, a := range list {
			for _, b := range list[i+1:] {
				if a.field == b.field || a.field == FieldNone || b.field == FieldNone {
					t.Errorf("phrase %q means %s and %s", phrase, a.field, b.field)
				}
			}
		}
	}
}

func TestHeadings(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]Field{
		"Crag": FieldSite, "Cave name": FieldSite, "Pitch": FieldRoute, "Bolt no.": FieldPosition, "Anchor #": FieldPosition,
		"DIA (mm)": FieldDiameter, "hole_diameter_mm": FieldHole, "Resin used": FieldGlue, "Lot": FieldBatch, "Date fitted": FieldSetOn,
		"Date of last inspection": FieldLastInspected, "By": FieldSetBy, "Lat.": FieldLat, "Longitude": FieldLon,
		"Land-owner": FieldLandowner, "Remarks": FieldNotes, "Kind of site": FieldSiteKind, "Bolt number in topo": FieldPosition,
		"Hole depth": "", "Checked by": "", "Next inspection": "", "Rock type": "", "Rope length": "", "Colour": "", "": "",
		"Number of bolts": "", "Height of pitch": "", "Landowner contact": "",
	} {
		if got, _ := readHeading(text).strength(); got != want {
			t.Errorf("heading %q means %q, want %q", text, got, want)
		}
	}
}

func TestCut(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{`a;b`, "a|b"},
		{`a;`, "a|"},
		{`"a;b";c`, "a;b|c"},
		{`"3/8""";c`, `3/8"|c`},
		{`3/8";c`, `3/8"|c`},
		{`"Old" route;c`, "Old route|c"},
		{` "a" ;c`, "a|c"},
		{` a ;c`, " a |c"},
		{"\"a\nb\";c", "a\nb|c"},
	} {
		records, openLine, over := cut(c.text, ';')
		if len(records) != 1 || strings.Join(records[0].cells, "|") != c.want || openLine != 0 || over != "" {
			t.Errorf("cut(%q) = %v, %d, %q, want %q", c.text, records, openLine, over, c.want)
		}
	}
}
