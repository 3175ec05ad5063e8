package web

import "testing"

// Only what is kept already can end.
func TestLandEndsWhereItStands(t *testing.T) {
	t.Parallel()
	for kind, field := range map[string]string{"landowner": "owner_ended_on", "parcel": "parcel_ended_on"} {
		for version, want := range map[string]int{"": 0, "1": 1} {
			page := landFormPage{form: newForm("version", version), Frame: frameOf("Land"), Kind: kind, Action: "/o"}
			if got := len(all(draw(t, landFormView(page)), has("id", field))); got != want {
				t.Errorf("%s of version %q asks %d times since when it is none, want %d", kind, version, got, want)
			}
		}
	}
}
