package wording

import (
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// Violation says what is wrong with one field and what to do about it. It does
// not name the field, which the form or the answer shows beside it. A violation
// of a list that cannot be read says why in its values.
func Violation(v fault.Violation) string {
	if why := v.Values["why"]; why != "" {
		text := ListFault(why, v.Values)
		return strings.ToUpper(text[:1]) + text[1:] + "."
	}
	return Fault(v.Code, v.Values)
}

// Fault says what went wrong and what to do about it. Values that are missing
// only make the sentence less exact. A code that has no sentence is told as an
// internal fault.
func Fault(code fault.Code, values map[string]string) string {
	say, ok := faults[code]
	if !ok {
		say = faults[fault.InternalCode]
	}
	return say(values)
}

// faults holds the sentence of every code.
var faults = map[fault.Code]func(map[string]string) string{
	fault.InternalCode:        always("Something went wrong here, through no fault of yours. Try again; if it happens again, tell whoever runs this register, with the time."),
	fault.InvalidCode:         always("Something that was sent cannot be right. Correct what is listed, then send it again."),
	fault.UnauthenticatedCode: always("Nobody is signed in. Sign in, or send a valid token, then try again."),
	fault.ForbiddenCode:       forbidden,
	fault.NotFoundCode:        always("There is no such thing in this group. Check the address or the id."),
	fault.ConflictCode:        always("This contradicts what is stored: the same id came with other content, or a value is already taken. Read what is stored; a correction is a new record with an id of its own."),
	fault.StaleCode:           always("Somebody changed this after you read it. Read it again, then make your change to what is there now."),
	fault.UnstatedCode:        always("It was not said which version you read. Read it again and send its ETag in the header If-Match."),
	fault.TooLargeCode:        tooLarge,
	fault.TooManyCode:         always("There were too many requests from here. Wait a little, then try again."),
	fault.BusyCode:            always("This cannot be done just now. Wait a little, then try again."),

	fault.Blank:           always("Nothing is written here. Fill it in."),
	fault.Required:        required,
	fault.NotAllowed:      notAllowed,
	fault.NotPositive:     always("This must be more than zero. Give a number above zero, or leave it out if it is not known."),
	fault.Negative:        always("This must not be less than zero. Give zero or more, or leave it out if it is not known."),
	fault.OutOfRange:      outOfRange,
	fault.NotANumber:      quoting("No number can be read from this. Write it in figures, for example 12 or 12.5."),
	fault.NotWhole:        quoting("This must be a whole number. Give it without a fraction."),
	fault.NotADate:        quoting("No date can be read from this. Write it as year-month-day, for example 2026-05-03."),
	fault.NoSuchDay:       quoting("The calendar has no such day. Check day and month."),
	fault.DateAhead:       ahead,
	fault.DayMonthMisfit:  quoting("Read like the rest of the list, this is no date: day and month stand the other way round. Write it as year-month-day."),
	fault.Order:           order,
	fault.Unknown:         unknown,
	fault.UnknownMetal:    quoting("No metal can be read from this. Give a grade such as 1.4404, or leave it out if it is not known."),
	fault.Ambiguous:       quoting("This can be read in more than one way. Write it out, with its unit."),
	fault.Malformed:       quoting("This is not written in the form that is asked for. Check how it is written."),
	fault.TooLong:         tooLong,
	fault.TooShort:        tooShort,
	fault.Mismatch:        mismatch,
	fault.Duplicate:       always("This is there already. Give another, or use the one that is there."),
	fault.NoSuchReference: always("This points to something that is not in this group. Check the id."),
	fault.CrossesItself:   crossesItself,
	fault.Overlaps:        overlaps,
	fault.NoSuchFinding:   always("No such finding stands against this anchor now with these values. Read the anchor again, then settle what stands."),
	fault.InUse:           inUse,
	fault.Immutable:       always("A record is never changed. Make a new record that names this one as replaced."),
}

func always(sentence string) func(map[string]string) string {
	return func(map[string]string) string { return sentence }
}

// quoting puts what was written before the sentence.
func quoting(sentence string) func(map[string]string) string {
	return func(values map[string]string) string { return quoted(values) + sentence }
}

func quoted(values map[string]string) string {
	for _, name := range []string{"text", "value", "grade"} {
		if text := values[name]; text != "" {
			return "“" + text + "”: "
		}
	}
	return ""
}

func forbidden(values map[string]string) string {
	least := values["least"]
	if values["lifts"] != "" {
		return "This record would lift what another decided: that the anchor is out of use, in doubt or to be repaired. Correcting that takes at least the role of " +
			least + ". Record what you saw as an inspection of its own, or ask a " + least + "."
	}
	if least == "" {
		return "Your role does not allow this. Ask a steward or an owner of the group."
	}
	return "Your role does not allow this: it takes at least the role of " + least + ". Ask a steward or an owner of the group."
}

func tooLarge(values map[string]string) string {
	switch {
	case values["rows"] != "" && values["limit"] != "":
		return "The list has " + values["rows"] + " rows, and at most " + values["limit"] +
			" are taken at once. Split it into smaller lists, each with the headings, and import them one after the other."
	case values["limit"] != "":
		return "This is more than is taken at once; the limit is " + values["limit"] + ". Send it in smaller parts."
	}
	return "This is more than is taken at once. Send it in smaller parts."
}

func outOfRange(values map[string]string) string {
	from, to := day(values["from"]), day(values["to"])
	remedy := " Check the number and its unit."
	if from != values["from"] || to != values["to"] {
		remedy = " Check the date."
	}
	switch {
	case from != "" && to != "":
		return "This lies outside what it can be: from " + from + " to " + to + "." + remedy
	case to != "":
		return "This is more than it can be: at most " + to + "." + remedy
	case from != "":
		return "This is less than it can be: at least " + from + "." + remedy
	}
	return "This lies outside what it can be." + remedy
}

// required knows what is missing of a correction that lifts a decision, and that
// a statement about a climate must state something.
func required(values map[string]string) string {
	switch {
	case values["lifts"] != "":
		return "A record that lifts what another decided against the anchor names who looked. Give the person."
	case values["states"] == "nothing":
		return "Nothing is stated of the climate here. Give at least one value, such as the distance to the sea, or a preset that fills values in."
	}
	return "This is missing and is needed here. Give it."
}

// notAllowed knows the findings that no answer settles.
func notAllowed(values map[string]string) string {
	switch values["rule"] {
	case "":
		return "This does not belong here, going by what else was given. Leave it out."
	case "first-use-not-allowed":
		return "No answer settles this. Record that a named person allows first use."
	case "not-located":
		return "No answer settles this. Record an inspection at which it was found, or how it came out."
	}
	return "No answer settles this. Record what was done about it."
}

// mismatch knows what a correction that lifts a decision lacks.
func mismatch(values map[string]string) string {
	switch level := values["least_level"]; {
	case level != "":
		return "A record that lifts what another decided against the anchor is made no less closely than that one, " +
			level + ". Inspect the anchor again as closely, then record that."
	case values["lifts"] != "":
		return "A record that lifts what another decided against the anchor is ticked for this anchor alone. Look at the anchor itself, then tick it."
	}
	return "This does not go with what else was given. Check both."
}

// order knows the days on which an anchor was set and removed, what was measured
// and the edges of a box.
func order(values map[string]string) string {
	switch set, removed := day(values["set_on"]), day(values["removed_on"]); {
	case values["new_mm"] != "":
		return "More is left than there was when new, " + values["new_mm"] + " mm. Check both measurements; wear only takes away."
	case values["corners"] != "":
		return "The box is turned over. Give west, south, east and north in this order, with west not above east and south not above north."
	case set != "":
		return "This lies before the anchor was set, on " + set + ". Check the date; if it is right, correct when the anchor was set, or record it for the anchor before it."
	case removed != "":
		return "This lies after the anchor was removed, on " + removed + ". Check the date; if it is right, record it for the anchor that came after it."
	}
	return "It ends before it begins. Check both dates."
}

func ahead(values map[string]string) string {
	if today := day(values["today"]); today != "" {
		return "This lies ahead of today, " + today + ". Give a day that has come."
	}
	return quoted(values) + "This lies ahead of today. Give a day that has come."
}

func unknown(values map[string]string) string {
	if allowed := values["allowed"]; allowed != "" {
		return quoted(values) + "There is no such choice. Give one of: " + allowed + "."
	}
	return quoted(values) + "There is no such choice. Give one from the list."
}

// inUse knows how many anchors stand at a place that was to end, or at a position
// where another was to be set, how many parcels a landowner holds, and what keeps
// an import from being undone.
func inUse(values map[string]string) string {
	if values["what"] != "" || values["in_the_way"] != "" || values["undone"] != "" || values["open"] != "" {
		return undoInUse(values)
	}
	switch n := values["standing"]; {
	case n == "1":
		return "One anchor still stands here. Record how it came out before this place is ended."
	case n != "":
		return n + " anchors still stand here. Record how each came out before this place is ended."
	case values["occupied"] != "":
		return "An anchor stands at this position already. Record how it came out, then add the one that took its place."
	case values["returns"] != "":
		return "Without this record its anchor would stand in the rock again, where a later one stands. If that is right, record first how the later one came out."
	case values["parcels"] == "1":
		return "One parcel is still this landowner's. Give it to another or end it first."
	case values["parcels"] != "":
		return values["parcels"] + " parcels are still this landowner's. Give each to another or end it first."
	}
	return "Something else still needs this. Remove what needs it first."
}

func crossesItself(values map[string]string) string {
	if lon, lat := values["lon"], values["lat"]; lon != "" && lat != "" {
		return "The outline crosses or touches itself near longitude " + lon + ", latitude " + lat +
			". Put its corners in order along the border, each once."
	}
	return "The outline crosses or touches itself. Put its corners in order along the border, each once."
}

func overlaps(values map[string]string) string {
	if name := values["name"]; name != "" {
		return "The outline covers part of the parcel “" + name + "”. Draw the common border the same in both, or correct that parcel first."
	}
	return "The outline covers the same land twice. Draw each piece once."
}

func tooLong(values map[string]string) string {
	if most := values["max"]; most != "" {
		return "This is longer than is kept: at most " + most + " characters. Shorten it."
	}
	return "This is longer than is kept. Shorten it."
}

func tooShort(values map[string]string) string {
	if least := values["min"]; least != "" {
		return "This is too short: at least " + least + " characters are asked for. Make it longer."
	}
	return "This is too short. Make it longer."
}

// day writes a date as people do and leaves any other text as it is.
func day(text string) string {
	d, err := calendar.ParseDate(strings.TrimSpace(text))
	if err != nil {
		return text
	}
	return d.Words()
}
