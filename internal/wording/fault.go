package wording

import (
	"strings"

	"rockledger/internal/fault"
)

// Violation says what is wrong with one field and what to do about it. It does
// not name the field, which the form or the answer shows beside it. A violation
// of a list or a picture that cannot be read says why in its values.
func Violation(v fault.Violation) string {
	if text := pictureFaults[v.Values["why"]]; text != "" {
		return text
	}
	if why := v.Values["why"]; why != "" {
		text := ListFault(why, v.Values)
		return strings.ToUpper(text[:1]) + text[1:] + "."
	}
	if text, ok := undecidable[v.Values["because"]]; ok {
		return text
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
	fault.InvalidCode:         invalid,
	fault.UnauthenticatedCode: always("Nobody is signed in. Sign in, or send a valid token, then try again."),
	fault.ForbiddenCode:       forbidden,
	fault.NotFoundCode:        notFound,
	fault.ConflictCode:        always("This contradicts what is stored: the same id came with other content, or a value is already taken. Read what is stored; a correction is a new record with an id of its own."),
	fault.StaleCode:           always("Somebody changed this after you read it. Read it again, then make your change to what is there now."),
	fault.UnstatedCode:        always("It was not said which version you read. Read it again and send its ETag in the header If-Match."),
	fault.TooLargeCode:        tooLarge,
	fault.TooManyCode:         always("There were too many requests from here. Wait a little, then try again."),
	fault.BusyCode:            busy,

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
	fault.Ambiguous:       ambiguous,
	fault.Malformed:       malformed,
	fault.TooLong:         tooLong,
	fault.TooShort:        tooShort,
	fault.Mismatch:        mismatch,
	fault.Duplicate:       duplicate,
	fault.NoSuchReference: always("This points to something that is not in this group. Check the id."),
	fault.CrossesItself:   crossesItself,
	fault.Overlaps:        overlaps,
	fault.NoSuchFinding:   always("No such finding stands against this anchor now with these values. Read the anchor again, then settle what stands."),
	fault.CureNotKnown:    cureNotKnown,
	fault.CureNotOver:     cureNotOver,
	fault.SamePerson:      samePerson,
	fault.OnHold:          always("A legal hold suspends erasure here, and another name would be one. Wait until it ends, or have it lifted."),
	fault.PictureLost:     always("This picture is on record, but its file is not where this register keeps its pictures. Send the same file again for the same anchor, which puts it back, and tell whoever runs this register."),
	fault.InUse:           inUse,
	fault.Immutable:       always("A record is never changed. Make a new record that names this one as replaced."),
}

// notFound knows that a list's own headings were asked for where no list is in
// force.
func notFound(values map[string]string) string {
	if _, none := values["no_list"]; none {
		return "No list was taken over yet, or each was undone. Ask for the register's own headings."
	}
	return "There is no such thing in this group. Check the address or the id."
}

// samePerson knows the first use that stands already where a correction would
// make its person the setter.
func samePerson(values map[string]string) string {
	if values["first_use"] != "" {
		return "With this, whoever allowed the anchor's first use would be who set it, which the house rules do not allow. " +
			"If it is right, take that first use back before, and let somebody else check the kept sample and allow it."
	}
	return "Whoever set the anchor may not allow its first use, by the house rules. Let somebody else check the kept sample and allow it."
}

// cureNotKnown says why there is no cure time.
func cureNotKnown(values map[string]string) string {
	return CureMissing(values["missing"]) + " Until there is one, first use cannot be allowed."
}

// cureNotOver says when it has cured at the soonest.
func cureNotOver(values map[string]string) string {
	if at := values["not_before"]; at != "" {
		return "By what is on record it has cured no sooner than " + momentWords(at) +
			". Allow first use after that and say at what time, or correct when it was set."
	}
	return "By what is on record it may not have cured yet. Allow first use later, and say at what time."
}

func always(sentence string) func(map[string]string) string {
	return func(map[string]string) string { return sentence }
}

// invalid knows a form that is shown again before anything of it was recorded.
func invalid(values map[string]string) string {
	if values["not_sent"] != "" {
		return NotSentYet
	}
	return "Something that was sent cannot be right. Correct what is listed, then send it again."
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

// busy knows what a list has to wait for.
func busy(values map[string]string) string {
	switch values["waits_for"] {
	case "intake":
		return "Another list of this group is being entered or undone just now. Wait until that is done, which the list of imports says, then send it again. Nothing was changed."
	case "reading":
		return "Another long list is being read just now, and only one is read at a time. Wait a minute, then send it again. Nothing was changed."
	}
	return "This cannot be done just now. Wait a little, then try again."
}

func tooLarge(values map[string]string) string {
	switch {
	case values["what"] == "picture":
		return "A picture may have at most " + values["limit"] + ". Scale it down, or save it as JPEG, and send that."
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
	if values["of"] == "items" {
		return "More are given than are taken: at most " + to + ". Leave the others out."
	}
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

// required knows what is missing of a record that lifts a decision or a marking
// and of a row of what settles what, and that
// a statement about a climate must state something.
func required(values map[string]string) string {
	switch {
	case values["lifts"] == "setting":
		return "With this correction an anchor would stand better than it does: it names a person, and says in words of its own why it is right. Give both."
	case values["lifts"] != "":
		return "A record that lifts what another decided against the anchor names who looked. Give the person."
	case values["unmarks"] != "":
		return "This anchor is out of use: a record that takes its marking away names who did it. Give the person."
	case values["settles"] != "":
		return "Findings of this rule are always settled by “" + values["settles"] + "”; no house rule takes that away. Name it too."
	case values["what"] == "steel":
		return "How thick the steel is decides how much mortar goes in beside it. Give its diameter, or its section where the sheet gives that."
	case values["what"] == "installations":
		return GluingNothing
	case values["not_before"] != "":
		return "By what is on record it has cured no sooner than " + momentWords(values["not_before"]) +
			", on that very day. Say at what time use was allowed."
	case values["states"] == "nothing":
		return "Nothing is stated of the climate here. Give at least one value, such as the distance to the sea, or a preset that fills values in."
	}
	return "This is missing and is needed here. Give it."
}

// notAllowed knows the findings that no answer settles, and what settles none of
// a rule.
func notAllowed(values map[string]string) string {
	if kind := values["settles"]; kind != "" {
		return "“" + kind + "” cannot settle findings of this rule. Leave it out."
	}
	if values["shipped"] != "" {
		return "This is a generic entry, not a maker's product, and takes no sheet. Add the maker's product, then its sheet."
	}
	if values["first_use"] != "" {
		return "Without this record nothing would say how the anchor was set here, and nothing would keep people off it until its first use is allowed. " +
			"If the record is wrong, correct it; if the anchor is not there, record how it came out. It may be taken back once another record says how it was set."
	}
	if values["sample"] != "" {
		return "A soft sample has not cured: do not use the anchor. Record on its gluing session that the sample was found soft, or the anchor as out of use (inspection, take out of use), and leave first use."
	}
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
	level := values["least_level"]
	switch {
	case values["with"] == "session_adhesive":
		return besideSession(values)
	case misfits[values["with"]] != "":
		return misfits[values["with"]]
	case level != "":
		return "A record that lifts what another decided against the anchor is made no less closely than that one, " +
			level + ". Inspect the anchor again as closely, then record that."
	case values["lifts"] != "":
		return "A record that lifts what another decided against the anchor is ticked for this anchor alone. Look at the anchor itself, then tick it."
	}
	return "This does not go with what else was given. Check both."
}

// besideSession names the two adhesives between which a line and its session
// leave open what was in the hole.
func besideSession(values map[string]string) string {
	own, session := values["batch_product"], values["session_product"]
	if own == "" || session == "" {
		return "This batch is of another adhesive than the session's. Name the adhesive of this line too, or correct batch or session."
	}
	return "This batch is of “" + own + "”, and the session names “" + session +
		"”. Name the adhesive of this line too if it was the batch's; otherwise correct batch or session."
}

// misfits say what does not go with the field that they are named for.
var misfits = map[string]string{
	"name":             "This is not the name that stands above. Type that name, if it is the one to be erased.",
	"sample_kept":      "By its session no sample was kept. If that is wrong, correct the session first; at first use, say that none was kept.",
	"sample_found":     "By its session the kept sample was found soft: do not use the anchor. Set it anew; if somebody who knows finds that the sample was misjudged, a steward corrects the session first.",
	"sample_at_rock":   "By its session the sample did not lie at the rock's temperature: it says nothing of what is in the hole. Wait the full time and record none-kept, or correct the session.",
	"done_on":          "This time is of another day than the one given. Check the time and the day, by the clock of the group's place.",
	"fitting-taken":    "A fitting that was taken off was not renewed. Choose one of the two; one that came in place of the old one is “renewed”.",
	"session":          "The session was on another day. Give a day that the session was on, or leave the day out: then it is the session's. If the session's day is wrong, correct the session first.",
	"kind":             "A product of this kind has no such figure. Leave it out.",
	"adhesive":         "This product is not an adhesive. Name the one that is injected.",
	"hole_depth_mm":    "The steel goes deeper than the hole. Check both lengths: this is the length in the hole, not the overall one.",
	"hole_diameter_mm": "The steel does not go into a hole of this diameter. Check both.",
	"cartridge_ml":     "Nothing is left of the cartridge once the first mix of each nozzle is thrown away. Check both.",
	"work_minutes":     "The cure time is shorter than the working time. Check both.",
	"cure_minutes":     "The cure time in a wet hole is shorter than in a dry one. Check both.",
	"count_received":   "More is on hand than was received. Check both counts.",
}

// order knows the days on which an anchor was set and removed, what was measured
// and the edges of a box.
func order(values map[string]string) string {
	switch {
	case values["above_c"] != "":
		return "Rows stand from cold to warm and do not overlap: this one must begin above " + values["above_c"] + " °C, where the one before ends."
	case values["new_mm"] != "":
		return "More is left than there was when new, " + values["new_mm"] + " mm. Check both measurements; wear only takes away."
	case values["from_degrees"] != "":
		return "The highest temperature is below the lowest, " + values["from_degrees"] + " °C. Check both."
	case values["corners"] != "":
		return "The box is turned over. Give west, south, east and north in this order, with west not above east and south not above north."
	case values["set_at"] != "":
		return "This lies before the anchor was set, " + momentWords(values["set_at"]) + ". Check both times; if this one is right, correct when the anchor was set."
	case values["opened_at"] != "":
		return "This lies before the cartridge was opened, " + momentWords(values["opened_at"]) + ". Check both times."
	case values["first_set_at"] != "":
		return "An anchor was set with it before that, " + momentWords(values["first_set_at"]) + ". Check both times; if this one is right, correct when the anchor was set."
	case values["next_set_on"] != "":
		return "The next anchor was set here " + dayOf(values, "next_set_on") + ", and this one came out before that. Check the date; if it is right, correct when the next one was set."
	case values["set_on"] != "":
		return "This lies before the anchor was set, " + dayOf(values, "set_on") + ". Check the date; if it is right, correct when the anchor was set, or record it for the anchor before it."
	case values["gone_by"] != "":
		return goneBy(values)
	case values["removed_on"] != "":
		return "This lies after the anchor was removed, " + dayOf(values, "removed_on") + ". Check the date; if it is right, record it for the anchor that came after it."
	}
	return "It ends before it begins. Check both dates."
}

func ahead(values map[string]string) string {
	if today := day(values["today"]); today != "" {
		return "This lies ahead of today, " + today + ". Give a day that has come."
	}
	if now := values["now"]; now != "" {
		return "This time has not come yet: it was entered " + momentWords(now) + ". Give a time that has come."
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
