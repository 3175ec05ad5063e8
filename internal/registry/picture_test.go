package registry_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

func TestPictureValidate(t *testing.T) {
	t.Parallel()
	id := sample.ID()
	good := registry.Picture{ID: id, AnchorID: sample.ID(), TakenOn: sample.Day, Words: strings.Repeat("x", registry.MaxWords)}
	if err := good.Validate(sample.Day); err != nil {
		t.Errorf("Validate() = %v, want nil", err)
	}
	bad := registry.Picture{ID: id, RecordID: &id, TakenOn: sample.Day.AddDays(1), EndedOn: sample.Day.AddDays(1), Words: good.Words + "x", AnchorID: uuid.Nil}
	day := map[string]string{"today": sample.Day.String()}
	want := []fault.Violation{
		{Field: "anchor_id", Code: fault.Required},
		{Field: "record_id", Code: fault.Mismatch},
		{Field: "words", Code: fault.TooLong},
		{Field: "taken_on", Code: fault.DateAhead, Values: day},
		{Field: "ended_on", Code: fault.DateAhead, Values: day},
	}
	e, _ := fault.As(bad.Validate(sample.Day))
	if diff := cmp.Diff(want, e.Violations); diff != "" {
		t.Errorf("Validate() mismatch (-want, +got):\n%s", diff)
	}
}
