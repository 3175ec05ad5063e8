package fault_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/fault"
)

func TestChecksWithoutViolation(t *testing.T) {
	t.Parallel()
	var c fault.Checks
	c.Require(true, "label", fault.Blank)
	c.Nest("fittings[0]", nil)
	if err := c.Err(); err != nil {
		t.Errorf("Err() = %v, want nil", err)
	}
}

func TestChecksReportEverything(t *testing.T) {
	t.Parallel()
	var part fault.Checks
	part.Require(false, "metal", fault.Unknown, "grade", "1.9999")
	part.Add(fault.Violation{Code: fault.Order})
	part.Add(fault.Violation{Field: "[1]", Code: fault.Blank})

	var c fault.Checks
	c.Require(false, "label", fault.Blank)
	c.Nest("fittings[0]", part.Err())
	c.Nest("set_on", fault.Reject(fault.DateAhead, "date").With("text", "2099"))

	e, ok := fault.As(c.Err())
	if !ok || e.Kind != fault.Invalid || e.Code != fault.InvalidCode {
		t.Fatalf("Err() = %#v, want kind and code invalid", e)
	}
	want := []fault.Violation{
		{Field: "label", Code: fault.Blank},
		{Field: "fittings[0].metal", Code: fault.Unknown, Values: map[string]string{"grade": "1.9999"}},
		{Field: "fittings[0]", Code: fault.Order},
		{Field: "fittings[0][1]", Code: fault.Blank},
		{Field: "set_on", Code: fault.DateAhead, Values: map[string]string{"text": "2099"}},
	}
	if diff := cmp.Diff(want, e.Violations); diff != "" {
		t.Errorf("violations (-want +got):\n%s", diff)
	}
	if want := "label blank, fittings[0].metal unknown, fittings[0] order, fittings[0][1] blank, set_on date-ahead"; e.Error() != want {
		t.Errorf("Error() = %q, want %q", e.Error(), want)
	}
}

func TestChecksKeepFailuresOfOtherKinds(t *testing.T) {
	t.Parallel()
	broken := errors.New("disk full")
	var c fault.Checks
	c.Require(false, "label", fault.Blank)
	c.Nest("photo", broken)
	c.Nest("photo", fault.New(fault.Busy, "later"))
	if err := c.Err(); !errors.Is(err, broken) {
		t.Errorf("Err() = %v, want %v", err, broken)
	}
}
