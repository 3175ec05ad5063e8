package fault

import "slices"

// Code names one reason, in words joined by hyphens. The sentence for it lives
// in the wording catalogue; the API's enumeration holds the same list.
type Code string

// Codes of the kinds: what a problem as a whole is called.
const (
	InternalCode        Code = "internal"
	InvalidCode         Code = "invalid"
	UnauthenticatedCode Code = "unauthenticated"
	ForbiddenCode       Code = "forbidden"
	NotFoundCode        Code = "not-found"
	ConflictCode        Code = "conflict"
	StaleCode           Code = "stale"
	UnstatedCode        Code = "unstated"
	TooLargeCode        Code = "too-large"
	TooManyCode         Code = "too-many"
	BusyCode            Code = "busy"
)

// Codes of single values: what is wrong with a field.
const (
	// Blank: nothing is written there.
	Blank Code = "blank"
	// Required: it must be given here, because of what else was given.
	Required Code = "required"
	// NotAllowed: it must not be given here, because of what else was given.
	NotAllowed Code = "not-allowed"
	// NotPositive: a number that must be above zero is not.
	NotPositive Code = "not-positive"
	// Negative: a number that must not be below zero is.
	Negative Code = "negative"
	// OutOfRange: beyond what the thing can be; the values carry the limits.
	OutOfRange Code = "out-of-range"
	// NotANumber: no number can be read from it.
	NotANumber Code = "not-a-number"
	// NotWhole: a number that must be whole is not.
	NotWhole Code = "not-whole"
	// NotADate: no date can be read from it.
	NotADate Code = "not-a-date"
	// NoSuchDay: written as a date, but the calendar has no such day.
	NoSuchDay Code = "no-such-day"
	// DateAhead: it lies in the future and must not.
	DateAhead Code = "date-ahead"
	// DayMonthMisfit: only right with day and month the other way round than
	// in the rest of the list.
	DayMonthMisfit Code = "day-month-misfit"
	// Order: it ends before it begins.
	Order Code = "order"
	// Unknown: no such value in a closed list.
	Unknown Code = "unknown"
	// UnknownMetal: no metal can be read from it.
	UnknownMetal Code = "unknown-metal"
	// Ambiguous: it can be read in ways that do not agree.
	Ambiguous Code = "ambiguous"
	// Malformed: it is not written in the form asked for.
	Malformed Code = "malformed"
	// TooLong: more characters than are kept.
	TooLong Code = "too-long"
	// TooShort: fewer characters than are asked for.
	TooShort Code = "too-short"
	// Mismatch: it does not go with another field.
	Mismatch Code = "mismatch"
	// Duplicate: it is there already.
	Duplicate Code = "duplicate"
	// NoSuchReference: it points to something that is not there.
	NoSuchReference Code = "no-such-reference"
	// CrossesItself: a line runs across itself.
	CrossesItself Code = "crosses-itself"
	// Overlaps: it covers part of what another one covers.
	Overlaps Code = "overlaps"
	// NoSuchFinding: no such finding stands against the anchor now.
	NoSuchFinding Code = "no-such-finding"
	// CureNotKnown: there is no cure time, by a sheet or a label; the values say
	// why.
	CureNotKnown Code = "cure-not-known"
	// CureNotOver: it has not cured yet, or may not have; the values say until
	// when.
	CureNotOver Code = "cure-not-over"
	// SamePerson: it must be somebody else.
	SamePerson Code = "same-person"
	// OnHold: a legal hold suspends it; the values name the hold.
	OnHold Code = "on-hold"
	// PictureLost: a picture is on record, and its file is not where it should be.
	PictureLost Code = "picture-lost"
	// InUse: something else still needs it.
	InUse Code = "in-use"
	// Immutable: a record cannot be changed, only replaced or retracted.
	Immutable Code = "immutable"
)

var codes = []Code{
	InternalCode, InvalidCode, UnauthenticatedCode, ForbiddenCode, NotFoundCode,
	ConflictCode, StaleCode, UnstatedCode, TooLargeCode, TooManyCode, BusyCode,
	Blank, Required, NotAllowed, NotPositive, Negative, OutOfRange, NotANumber,
	NotWhole, NotADate, NoSuchDay, DateAhead, DayMonthMisfit, Order, Unknown,
	UnknownMetal, Ambiguous, Malformed, TooLong, TooShort, Mismatch, Duplicate,
	NoSuchReference, CrossesItself, Overlaps, NoSuchFinding, CureNotKnown,
	CureNotOver, SamePerson, PictureLost, OnHold, InUse, Immutable,
}

// Codes returns every code, in a fixed order. The slice is the caller's.
func Codes() []Code { return slices.Clone(codes) }
