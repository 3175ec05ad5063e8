package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

// mortarHoleArgs is a smooth 10 mm shank in a hole of 12 mm by 85 mm, by hand
// π/4 (12² · 85 - 10² · 80) / 1000 = 3.3301 mL.
var mortarHoleArgs = []string{"mortar", "--hole-diameter", "12", "--hole-depth", "85", "--shank-diameter", "10", "--embedded", "80"}

type mortarMade struct {
	Volume     float64 `json:"volume_ml"`
	Cartridges int     `json:"cartridges"`
	Holes      []struct {
		Net          float64 `json:"net_ml"`
		Holes        int     `json:"holes"`
		PerCartridge int     `json:"holes_per_cartridge"`
	} `json:"holes"`
	Notes   []struct{ Code, Text string } `json:"notes"`
	Caution string                        `json:"caution"`
}

func mortarOf(t *testing.T, args ...string) mortarMade {
	t.Helper()
	var m mortarMade
	if err := json.Unmarshal([]byte(must(t, append(args[:len(args):len(args)], "--format", "json")...)), &m); err != nil {
		t.Fatal(err)
	}
	return m
}

func TestMortarJSON(t *testing.T) {
	t.Parallel()
	net := math.Pi / 4 * (12*12*85 - 10*10*80) / 1000
	m := mortarOf(t, append(mortarHoleArgs[:len(mortarHoleArgs):len(mortarHoleArgs)], "--waste", "1.3")...)
	if math.Abs(m.Volume-1.3*net) > 1e-9 || math.Abs(net-3.3301) > 5e-5 || m.Cartridges != 1 || m.Caution != wording.Caution {
		t.Errorf("%+v, want %.4f mL of one cartridge, and the caution", m, 1.3*net)
	}
	if m.Holes[0].PerCartridge != 66 { // (300 - 10) / 4.3291 = 66.99
		t.Errorf("%d holes of a cartridge, want 66", m.Holes[0].PerCartridge)
	}
	m = mortarOf(t, append(mortarHoleArgs[:len(mortarHoleArgs):len(mortarHoleArgs)], "--count", "40", "--holes-each", "2", "--cartridge-ml", "160")...)
	if math.Abs(m.Volume-80*1.3*net) > 1e-9 || m.Cartridges != 3 { // 150 / 4.3291 = 34.6: 34 + 34 + 12
		t.Errorf("%+v, want 80 holes of three cartridges", m)
	}
}

// Inches, and the real section of the steel: the M12 rod of the published
// table, 8.008 mL, without the note that a nominal diameter orders too little.
func TestMortarLengthsAndSection(t *testing.T) {
	t.Parallel()
	m := mortarOf(t, "mortar", "--hole-diameter", "14 mm", "--hole-depth", "11.5cm", "--embedded", "115", "--steel-area", "84.3")
	if math.Abs(m.Holes[0].Net-8.008) > 0.001 {
		t.Errorf("M12 rod: %+v, want 8.008 mL", m)
	}
	for _, n := range m.Notes {
		if n.Code == "nominal-diameter" {
			t.Errorf("a section was given: %+v", n)
		}
	}
	m = mortarOf(t, "mortar", "--hole-diameter", "1/2 in", "--hole-depth", "4in", "--embedded", `4"`, "--shank-diameter", "3/8")
	if math.Abs(m.Holes[0].Net-5.6308) > 0.0005 { // π/4 · 4 · (0.5² - 0.375²) in³
		t.Errorf("half an inch: %+v, want 5.6308 mL", m)
	}
}

func TestMortarText(t *testing.T) {
	t.Parallel()
	out := must(t, mortarHoleArgs...)
	for _, want := range []string{"4.329", "1 cartridge of 300 mL", "default of this project", "threaded rod", wording.Caution} {
		if !strings.Contains(out, want) {
			t.Errorf("text lacks %q:\n%s", want, out)
		}
	}
}

func TestMortarRejects(t *testing.T) {
	t.Parallel()
	for field, args := range map[string][]string{
		"hole_diameter_mm":  {"--hole-diameter", "wide", "--hole-depth", "85", "--shank-diameter", "10", "--embedded", "80"},
		"embedded_mm":       {"--hole-diameter", "12", "--hole-depth", "75", "--shank-diameter", "10", "--embedded", "80"},
		"shank_diameter_mm": {"--hole-diameter", "12", "--hole-depth", "85", "--shank-diameter", "12", "--embedded", "80"},
		"waste":             {"--hole-diameter", "12", "--hole-depth", "85", "--shank-diameter", "10", "--embedded", "80", "--waste", "0.9"},
		"count":             {"--hole-diameter", "12", "--hole-depth", "85", "--shank-diameter", "10", "--embedded", "80", "--count", "0"},
	} {
		_, err := command(t, append([]string{"mortar"}, args...)...)
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(explain(err), field) || strings.Contains(explain(err), "holes[0].") {
			t.Errorf("%v: %v, want invalid naming %s", args, err, field)
		}
	}
}
