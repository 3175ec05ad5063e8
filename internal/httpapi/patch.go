package httpapi

import (
	"regexp"
	"strconv"

	"github.com/oapi-codegen/nullable"

	"rockledger/api"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// strongTag is the only form of entity tag given out here.
var strongTag = regexp.MustCompile(`^"([0-9]{1,9})"$`)

// etag is the entity tag of a version, RFC 9110 section 8.8.3.
func etag(version int) string { return `"` + strconv.Itoa(version) + `"` }

// ifMatch reads the version from If-Match: fault.Unstated without one,
// fault.Invalid with code fault.Malformed for anything but one strong tag, and
// fault.Stale for a tag that was never given out.
func ifMatch(header string) (int, error) {
	if header == "" {
		return 0, fault.New(fault.Unstated, "no If-Match")
	}
	m := strongTag.FindStringSubmatch(header)
	if m == nil {
		e := fault.Reject(fault.Malformed, "If-Match: want one strong entity tag")
		e.Violations = []fault.Violation{{Field: "If-Match", Code: fault.Malformed}}
		return 0, e
	}
	version, err := strconv.Atoi(m[1])
	if err != nil {
		return 0, fault.Wrap(fault.Stale, err, "read If-Match")
	}
	return version, nil
}

// anchorEdit turns a merge patch into a change of an anchor: what is absent
// stays, null makes it not known.
func anchorEdit(p api.AnchorPatch) func(*registry.Anchor) error {
	return func(a *registry.Anchor) error {
		set(p.Form, func(v string) { a.Form = registry.Form(v) })
		set(p.Metal, func(v []api.MetalGrade) { a.Metal = metalIn(v) })
		set(p.MetalText, func(v string) { a.MetalWords = v })
		setLength(p.ShankDiameterMm, &a.Shank)
		setLength(p.OverallLengthMm, &a.Length)
		set(p.SetOn, func(v api.UncertainDatePatch) { a.SetOn = spanIn(api.UncertainDate(v)) })
		set(p.Notes, func(v string) { a.Notes = v })
		return checkSpan("set_on", a.SetOn)
	}
}

// set calls put with the value of a member that is there, the zero value for
// null.
func set[T any](n nullable.Nullable[T], put func(T)) {
	if !n.IsSpecified() {
		return
	}
	var v T
	if !n.IsNull() {
		v = n.MustGet()
	}
	put(v)
}

func setLength(n nullable.Nullable[float64], at **quantity.Length) {
	if !n.IsSpecified() {
		return
	}
	*at = nil
	if !n.IsNull() {
		mm := n.MustGet()
		*at = lengthIn(&mm)
	}
}

// checkSpan wants an uncertain date's ends together and in order.
func checkSpan(field string, s calendar.Span) error {
	var c fault.Checks
	c.Nest(field, s.Validate())
	return c.Err()
}
