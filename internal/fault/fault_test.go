package fault_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/fault"
)

func TestKindOf(t *testing.T) {
	t.Parallel()
	stale := fault.New(fault.Stale, "anchor 12 is at version 3")
	for _, tc := range []struct {
		name string
		err  error
		want fault.Kind
	}{
		{"nothing", nil, fault.Internal},
		{"nobody classified it", errors.New("disk full"), fault.Internal},
		{"plain", stale, fault.Stale},
		{"under one layer", fmt.Errorf("save anchor 12: %w", stale), fault.Stale},
		{"the outermost counts", fault.Wrap(fault.Busy, stale, "pool"), fault.Busy},
		{"cancelled", fmt.Errorf("list: %w", context.Canceled), fault.Busy},
		{"timed out", context.DeadlineExceeded, fault.Busy},
		{"classified beats cancelled", fault.Wrap(fault.Invalid, context.Canceled, "read"), fault.Invalid},
		{"joined", errors.Join(errors.New("a"), stale), fault.Stale},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			if got := fault.KindOf(tc.err); got != tc.want {
				t.Errorf("KindOf(%v) = %v, want %v", tc.err, got, tc.want)
			}
		})
	}
}

func TestCodeOf(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		err  error
		want fault.Code
	}{
		{nil, fault.InternalCode},
		{fault.New(fault.NotFound, "site"), fault.NotFoundCode},
		{fault.Reject(fault.DateAhead, "date"), fault.DateAhead},
		{fault.New(fault.Conflict, "batch").WithCode(fault.Duplicate), fault.Duplicate},
		{&fault.Error{Kind: fault.TooMany}, fault.TooManyCode},
		{context.Canceled, fault.BusyCode},
	} {
		if got := fault.CodeOf(tc.err); got != tc.want {
			t.Errorf("CodeOf(%v) = %v, want %v", tc.err, got, tc.want)
		}
	}
}

func TestKindCode(t *testing.T) {
	t.Parallel()
	if got := fault.Kind(99).Code(); got != fault.InternalCode {
		t.Errorf("Kind(99).Code() = %v, want %v", got, fault.InternalCode)
	}
	if got := fault.TooLarge.String(); got != "too-large" {
		t.Errorf("TooLarge.String() = %q, want too-large", got)
	}
}

func TestErrorText(t *testing.T) {
	t.Parallel()
	cause := errors.New("no route to host")
	for _, tc := range []struct {
		err  *fault.Error
		want string
	}{
		{fault.New(fault.Invalid, "length %d", 3), "length 3"},
		{fault.Wrap(fault.Busy, cause, "connect"), "connect: no route to host"},
		{fault.Wrap(fault.Busy, cause, ""), "no route to host"},
	} {
		if got := tc.err.Error(); got != tc.want {
			t.Errorf("Error() = %q, want %q", got, tc.want)
		}
	}
	if !errors.Is(fault.Wrap(fault.Busy, cause, "connect"), cause) {
		t.Error("Wrap hides its cause")
	}
}

func TestWithLeavesTheOriginalAlone(t *testing.T) {
	t.Parallel()
	first := fault.Reject(fault.OutOfRange, "depth").With("min", "1")
	second := first.With("max", "9", "odd")
	if diff := cmp.Diff(map[string]string{"min": "1"}, first.Values); diff != "" {
		t.Errorf("values of the original (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(map[string]string{"min": "1", "max": "9", "odd": ""}, second.Values); diff != "" {
		t.Errorf("values of the copy (-want +got):\n%s", diff)
	}
}

func TestCodesAreDistinct(t *testing.T) {
	t.Parallel()
	seen := make(map[fault.Code]bool)
	for _, c := range fault.Codes() {
		if seen[c] || c == "" {
			t.Errorf("code %q twice or empty", c)
		}
		seen[c] = true
	}
	for k := fault.Internal; k <= fault.Busy; k++ {
		if !seen[k.Code()] {
			t.Errorf("Codes() lacks %q", k.Code())
		}
	}
	fault.Codes()[0] = "changed"
	if fault.Codes()[0] == "changed" {
		t.Error("Codes() hands out its own slice")
	}
}

func TestViolationJSON(t *testing.T) {
	t.Parallel()
	got, err := json.Marshal(fault.Violation{Field: "label", Code: fault.Blank})
	if want := `{"field":"label","code":"blank"}`; err != nil || string(got) != want {
		t.Errorf("Marshal = %s, %v, want %s", got, err, want)
	}
}
