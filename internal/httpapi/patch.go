package httpapi

import (
	"regexp"
	"strconv"

	"github.com/oapi-codegen/nullable"
	"github.com/oapi-codegen/runtime/types"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
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
		e.Violations = []fault.Violation{{Field: "If-Match", Code: fault.Malformed, Values: map[string]string{"wanted": `"3", the ETag of what you read, with its quotes and nothing before them`}}}
		return 0, e
	}
	version, err := strconv.Atoi(m[1])
	if err != nil {
		return 0, fault.Wrap(fault.Stale, err, "read If-Match")
	}
	return version, nil
}

// setWith calls put with the value of a member that is there, the zero value
// for null.
func setWith[T any](n nullable.Nullable[T], put func(T)) {
	if !n.IsSpecified() {
		return
	}
	var v T
	if !n.IsNull() {
		v = n.MustGet()
	}
	put(v)
}

// set stores the value of a member that is there, the zero value for null.
func set[T any](n nullable.Nullable[T], at *T) { setWith(n, func(v T) { *at = v }) }

// setWord is set for texts and words of closed lists.
func setWord[T ~string](n nullable.Nullable[string], at *T) {
	setWith(n, func(v string) { *at = T(v) })
}

// setDate is set for days.
func setDate(n nullable.Nullable[types.Date], at *calendar.Date) {
	setWith(n, func(v types.Date) { *at = dateIn(v) })
}

// setPointer is set for what is nil where it is not known.
func setPointer[T any](n nullable.Nullable[T], at **T) { setAs(n, at, func(v T) T { return v }) }

// setLength is setPointer for lengths in mm.
func setLength(n nullable.Nullable[float64], at **quantity.Length) {
	setAs(n, at, func(mm float64) quantity.Length { return quantity.Length(mm) })
}

// setAs is setPointer for what is kept as another type.
func setAs[T, V any](n nullable.Nullable[T], at **V, convert func(T) V) {
	if !n.IsSpecified() {
		return
	}
	*at = nil
	if v, err := n.Get(); err == nil {
		kept := convert(v)
		*at = &kept
	}
}

// setMetal is set for a metal and its words: words without a metal are read.
func setMetal(grades nullable.Nullable[[]api.MetalGrade], text nullable.Nullable[string], at *metal.Set, words *string) {
	setWord(text, words)
	switch {
	case grades.IsSpecified():
		setWith(grades, func(v []api.MetalGrade) { *at = metalIn(v) })
	case text.IsSpecified():
		*at = app.RereadMetal(*at, *words)
	}
}
