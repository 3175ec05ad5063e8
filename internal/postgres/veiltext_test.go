package postgres

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/fault"
	"rockledger/internal/ledger"
)

// What veilText writes is what ledger.Veil makes of the same row, byte for
// byte: older entries were made by that, and VerifyLedger compares with it.
func TestVeilText(t *testing.T) {
	t.Parallel()
	nouns := map[string]func(*testing.T, string){
		persons.name: veilTexts[personRow], landowners.name: veilTexts[landownerRow], parcels.name: veilTexts[parcelRow],
		agreements.name: veilTexts[agreementRow], proposals.name: veilTexts[proposalRow], sites.name: veilTexts[siteRow],
		positions.name: veilTexts[positionRow], anchors.name: veilTexts[anchorRow], products.name: veilTexts[productRow],
		fittings.name: veilTexts[fittingRow], pictures.name: veilTexts[pictureRow], events.name: veilTexts[eventRow],
		notices.name: veilTexts[noticeRow], sessions.name: veilTexts[sessionRow], installations.name: veilTexts[installationRow],
		cures.name: veilTexts[cureRow], firstUses.name: veilTexts[firstUseRow], inspections.name: veilTexts[inspectionRow],
		maintenance.name: veilTexts[maintenanceRow], removals.name: veilTexts[removalRow], markings.name: veilTexts[markingRow],
		settlements.name: veilTexts[settlementRow], retractions.name: veilTexts[retractionRow], erasures.name: veilTexts[erasureRow],
		holds.name: veilTexts[holdRow], restrictions.name: veilTexts[restrictionRow],
	}
	for noun := range veiled {
		check, ok := nouns[noun]
		if !ok {
			t.Errorf("%s is veiled and not compared here", noun)
			continue
		}
		t.Run(noun, func(t *testing.T) {
			t.Parallel()
			check(t, noun)
		})
	}
}

func veilTexts[R any](t *testing.T, noun string) {
	t.Helper()
	dice := rand.New(rand.NewPCG(3, 4))
	asked := 0
	salted := func() ([]byte, error) { asked++; return bytes.Repeat([]byte{7}, saltSize), nil }
	none := func() ([]byte, error) { return nil, nil }
	for range 300 {
		var r R
		invent(dice, reflect.ValueOf(&r).Elem())
		for _, salt := range []func() ([]byte, error){salted, none} {
			asked = 0
			want, err := ledger.Veil(r, hiddenIn(noun, r), salt)
			if err != nil {
				t.Fatal(err)
			}
			wantAsked := asked
			for _, row := range []any{r, &r} {
				asked = 0
				got, err := veilText(noun, row, salt)
				if err != nil || got != want || asked != wantAsked {
					t.Fatalf("veilText, %v, salt asked for %d times, want %d (-want +got):\n%s", err, asked, wantAsked, cmp.Diff(want, got))
				}
			}
		}
	}
}

func TestVeilTextOfErased(t *testing.T) {
	t.Parallel()
	p := personRow{Name: "erased", Erased: true}
	refuse := func() ([]byte, error) { return nil, errors.New("not to be asked") }
	got, err := veilText(persons.name, p, refuse)
	want := `{"erased":true,"id":"00000000-0000-0000-0000-000000000000","name":"erased","private":"","version":0}`
	if err != nil || got != want {
		t.Errorf("veilText of a person erased = %s, %v, want %s", got, err, want)
	}
}

func TestVeilTextRefuses(t *testing.T) {
	t.Parallel()
	salt := func() ([]byte, error) { return []byte("salt"), nil }
	lat := math.NaN()
	if _, err := veilText(positions.name, positionRow{Lat: &lat}, salt); fault.KindOf(err) != fault.Invalid {
		t.Errorf("veilText of a latitude that is no number: %v, want Invalid", err)
	}
	refusal := errors.New("no salt to be had")
	refuse := func() ([]byte, error) { return nil, refusal }
	if _, err := veilText(persons.name, personRow{Name: "A. Tester"}, refuse); !errors.Is(err, refusal) {
		t.Errorf("veilText without a salt: %v, want %v", err, refusal)
	}
}
