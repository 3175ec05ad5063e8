package metal_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/fault"
	"rockledger/internal/metal"
)

var (
	family304 = metal.NewSet("1.4301", "1.4303", "1.4306", "1.4307", "1.4541", "1.4567")
	family316 = metal.NewSet("1.4401", "1.4404", "1.4432", "1.4435", "1.4436", "1.4571", "1.4578")
	hcr       = metal.NewSet("1.4529", "1.4547", "1.4565")
	titanium  = metal.NewSet(metal.Titanium1, metal.Titanium2, metal.Titanium5)
	plated    = metal.NewSet(metal.SteelElectroplated)
	hotDip    = metal.NewSet(metal.SteelHotDipGalvanised)
	galv      = plated.Union(hotDip)
	zinc      = galv.Union(metal.NewSet(metal.SteelSherardised))
	carbon    = zinc.Union(metal.NewSet(metal.SteelBare))
)

func one(g metal.Grade) metal.Set { return metal.NewSet(g) }

func TestParse(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		text string
		want metal.Set
	}{
		// Every spelling of testdata's invented anchor list.
		{"316L", one("1.4404")},
		{"A4", family316}, // ISO 3506-1: a class of steels, not a grade
		{"1.4404", one("1.4404")},
		{"st.st. 316", one("1.4401")},
		{"A4-316", one("1.4401")},
		{"316", one("1.4401")},
		{"Stainless (A4)", family316},
		{"304", one("1.4301")},
		{"st.st.", metal.Stainless()},
		{"stainless", metal.Stainless()},
		{"Ti", titanium},
		{"BZP", plated},
		{"Ti gr2", one(metal.Titanium2)},
		{"A2", family304}, // ISO 3506-1
		{"zinc", zinc},
		{"1.4529", one("1.4529")},
		{"zinc pl.", plated},
		{"HDG", hotDip},
		{"plated", plated},
		{"Zn plated steel", plated},
		{"HCR", hcr},
		{"1.4547", one("1.4547")},
		{"1.4301", one("1.4301")},
		{"titanium", titanium},
		{"hot dip galv", hotDip},
		{"", nil},

		// Others; common practice, no source, but for the numbers.
		{" a4 / 316l ", one("1.4404")},
		{"A4-316L", one("1.4404")},
		{"A4-80", family316}, // ISO 3506-1: 80 is the strength class
		{"A2-70", family304},
		{"A8", metal.NewSet("1.4529", "1.4547")},
		{"6Mo", metal.NewSet("1.4529", "1.4547")},
		{"6% Mo", metal.NewSet("1.4529", "1.4547")},
		{"EN 1.4404", one("1.4404")},
		{"W.Nr. 1.4462", one("1.4462")},
		{"14404", one("1.4404")},
		{"AISI 316 L", one("1.4404")},
		{"SS316L", one("1.4404")},
		{"316SS", one("1.4401")},
		{"304L", one("1.4307")},
		{"316Ti", one("1.4571")},
		{"2205", one("1.4462")},
		{"UNS S32205", one("1.4462")},
		{"D6", one("1.4462")},
		{"904L", one("1.4539")},
		{"S31254", one("1.4547")},
		{"super duplex", metal.NewSet("1.4410", "1.4501", "1.4507")},
		{"430", one("1.4016")},
		{"S.S.", metal.Stainless()},
		{"Stainless Steel", metal.Stainless()},
		{"inox", metal.Stainless()},
		{"grade 2 titanium", one(metal.Titanium2)},
		{"Titanium (Gr. 2)", one(metal.Titanium2)},
		{"ti-2", one(metal.Titanium2)},
		{"Ti-6Al-4V", one(metal.Titanium5)},
		{"R50400", one(metal.Titanium2)}, // ASTM B265
		{"bright zinc plated", plated},
		{"electro-galvanised", plated},
		{"galv", galv},
		{"galvanised steel", galv},
		{"Hot-dipped galvanized", hotDip}, //nolint:misspell // people write it so
		{"HDG mild steel", hotDip},
		{"sherardised", one(metal.SteelSherardised)},
		{"steel", carbon},
		{"mild steel", carbon},
		{"carbon steel", carbon},
		{"bare steel", one(metal.SteelBare)},
		{"alu", one(metal.Aluminium)},
		{"aluminium alloy", one(metal.Aluminium)},
		{"304/316", metal.NewSet("1.4301", "1.4401")},
		{"A4 / BZP", family316.Union(plated)},
		{"316 or mild steel", one("1.4401").Union(carbon)},
		{"?", nil},
		{" n/k ", nil},
		{"Unknown", nil},
		{"–", nil},
	} {
		got, err := metal.Parse(tc.text)
		if err != nil {
			t.Errorf("Parse(%q): %v", tc.text, err)
			continue
		}
		if diff := cmp.Diff(tc.want, got); diff != "" {
			t.Errorf("Parse(%q) (-want +got):\n%s", tc.text, diff)
		}
	}
}

func TestParseRejects(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]fault.Code{
		"unobtainium": fault.UnknownMetal, "A4 and chewing gum": fault.UnknownMetal, "1.4999": fault.UnknownMetal,
		"grade 2": fault.UnknownMetal, "titanium grade 7": fault.UnknownMetal, "copper": fault.UnknownMetal, "bright": fault.UnknownMetal,
		"(": fault.UnknownMetal, "316?": fault.Ambiguous, "A4 (?)": fault.Ambiguous,
	} {
		got, err := metal.Parse(" " + text)
		e, ok := fault.As(err)
		if !ok || e.Kind != fault.Invalid || e.Code != want || e.Values["text"] != text || got != nil {
			t.Errorf("Parse(%q) = %v, %v (%v), want %v", text, got, err, fault.CodeOf(err), want)
		}
	}
}

func TestParseReadsItsOwnIDs(t *testing.T) {
	t.Parallel()
	for _, e := range metal.All() {
		if got, err := metal.Parse(string(e.Grade)); err != nil || !got.Equal(one(e.Grade)) {
			t.Errorf("Parse(%q) = %v, %v", e.Grade, got, err)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"A4-316L", "st.st. 316", "Ti gr2", "hot dip galv", "A4 / BZP", "grade 2 titanium", "316?"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := metal.Parse(text)
		if err != nil && got.Known() {
			t.Errorf("Parse(%q) = %v beside error %v", text, got, err)
		}
		if err := got.Validate(); err != nil {
			t.Errorf("Parse(%q) = %v: %v", text, got, err)
		}
	})
}
