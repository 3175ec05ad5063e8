package wording

import (
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Candidate says a date and why: "Inspect by 2 May 2027: last inspected
// hands-on on 2 May 2024; ...".
func Candidate(c registry.Candidate) string {
	verb := "Inspect by "
	if c.Rule == "not-located" {
		verb = "Look for it by "
	}
	return verb + c.On.Words() + ": " + why(c) + "."
}

// why says what gave a candidate its date.
func why(c registry.Candidate) string {
	switch c.Rule {
	case "interval":
		return "last inspected " + Level(registry.Level(c.Values.Text("level"))) + " " + On(span(c.Values, "last_inspected")) +
			"; " + every(c)
	case "first-inspection":
		return firstInspection(c)
	case "verdict":
		return verdict(c)
	case "bad-state":
		return "the list it came from gives it a bad state, and such an anchor is inspected within " +
			months(c.Values.Text("months")) + " of its entry here" + by(c.Source)
	case "not-located":
		return notLocated(c)
	case "first-round":
		return "the first round at its site ends then" + by(c.Source)
	case "event":
		return event(c)
	case "notice":
		return "the notice “" + c.Values.Text("title") + "” of " + dayWords(c.Values.Text("issued_on")) + " asks for it"
	case "wear":
		return wear(c)
	case "coating":
		return "its zinc is used up no later than then, at the fastest rate of " + atmosphere(c) + by(c.Source)
	case "section":
		return "the exposed part of its shank has lost the share from which it is " + share(c) +
			" no later than then, at the fastest rate of " + atmosphere(c) + by(c.Source)
	case "fitting":
		return "a rope runs over its " + lowerLabel(c.Values.Text("fitting")) + ", " + countedFrom(c) + "; on " +
			trafficOf(c.Values.Text("row")) + " it is looked at every " + months(c.Values.Text("months")) + by(c.Source)
	case "duty":
		return "anchors of this group serve " + duties[c.Values.Text("duty")] + ", " + countedFrom(c) +
			"; they are inspected in full every " + months(c.Values.Text("months")) + by(c.Source)
	}
	return strings.ReplaceAll(c.Rule, "-", " ") + by(c.Source)
}

// every says which longest interval counts.
func every(c registry.Candidate) string {
	return row(c.Factor, c.Values.Text("environment"), c.Values.Text("row")) + " is looked at every " + months(c.Values.Text("months")) + by(c.Source)
}

func firstInspection(c registry.Candidate) string {
	on := On(span(c.Values, "counted"))
	from := ""
	switch c.Values.Text("counted_from") {
	case "first-use":
		from = "first use was allowed " + on
	case "set":
		from = "it was set " + on
	default:
		from = "when it was set is not known, and it was entered here " + on
	}
	if c.Factor != "" {
		return from + ", and nobody has inspected it hands-on since; " + every(c)
	}
	return from + ", and the first inspection follows within " + months(c.Values.Text("months")) + by(c.Source)
}

func verdict(c registry.Candidate) string {
	text := "the verdict " + On(span(c.Values, "given")) + " was “" +
		strings.ToLower(Label(registry.Verdict(c.Values.Text("verdict")))) + "”"
	if m := c.Values.Text("months"); m != "" {
		return text + " without a date, which means within " + months(m) + by(c.Source)
	}
	return text + ", and the inspector set this date"
}

func notLocated(c registry.Candidate) string {
	if c.Values.Text("origin") == string(registry.Imported) {
		return "the list it came from says that it was not found, and the first round at its site ends then" + by(c.Source)
	}
	return "it was looked for " + On(span(c.Values, "missed")) + " and not found; somebody looks again within " +
		months(c.Values.Text("months")) + by(c.Source)
}

// event says what befell the site, and who or what set the date.
func event(c registry.Candidate) string {
	text := lowerLabel(c.Values.Text("event")) + " at the site on " + dayWords(c.Values.Text("happened_on"))
	if days := c.Values.Text("days"); days != "" {
		text += ", after which everything there is inspected within " + days + " days" + by(c.Source)
	} else {
		text += ", and a steward set this date"
	}
	if c.Values.Text("closed") == "true" {
		text += "; the site is closed until then"
	}
	return text
}

func wear(c registry.Candidate) string {
	v := c.Values
	text := "the " + point(v) + " had " + v.Text("left_mm") + " mm of " + v.Text("new_mm") + " mm left " + On(span(v, "measured")) +
		" and, if it goes on wearing like that, loses " + v.Text("limit_pct") + " % by then" + by(c.Source)
	if v.Text("readings") == "1" {
		text += "; only one measurement says how fast it wears"
	}
	return text
}

func atmosphere(c registry.Candidate) string {
	return "its place (" + Category(registry.Category(c.Values.Text("atmosphere"))) + ")"
}

func share(c registry.Candidate) string {
	if c.Values.Text("share") == string(registry.Suspect) {
		return "suspect"
	}
	return "watched"
}

// duties say what anchors under a duty are used for.
var duties = map[string]string{
	"work":        "work or instructed groups",
	"rope-access": "rope access",
}

// countedFrom says from which day a clock counts.
func countedFrom(c registry.Candidate) string {
	on := On(span(c.Values, "counted"))
	switch c.Values.Text("counted_from") {
	case "inspection":
		return "last inspected so " + on
	case "hung":
		return "hung " + on
	case "first-use":
		return "in use since first use was allowed " + on
	case "set":
		return "in place since the anchor was set " + on
	}
	return "entered here " + on
}

// trafficOf says how much a route is used.
func trafficOf(row string) string {
	return strings.TrimPrefix(rowsByFactor["traffic"][row], "an anchor on ")
}

// Reason says in one sentence why an anchor has its date; blank for a removed
// anchor, which has none.
func Reason(a registry.Assessment) string {
	switch {
	case a.DueOn.IsZero():
		return ""
	case a.Reason.Rule == "first-round":
		return firstRound(a)
	}
	return Candidate(a.Reason)
}

// firstRound says why the anchor waits for its first round, and when it would
// have been due.
func firstRound(a registry.Assessment) string {
	text := "Awaiting the first round, which ends on " + a.DueOn.Words()
	if a.DueState == registry.Overdue {
		text = "Overdue since the first round ended on " + a.DueOn.Words()
	}
	text += by(a.Reason.Source) + ": " + uninspected(a)
	if a.SoonestOn >= a.DueOn {
		return text + "."
	}
	return text + "; " + otherwise(a) + " it would have been due on " + a.SoonestOn.Words() + "."
}

// uninspected says that no inspection counts: of a day before the anchor was
// entered here, that it is on record only since.
func uninspected(a registry.Assessment) string {
	entered, err := calendar.ParseDate(a.Reason.Values.Text("entered_on"))
	if err == nil && !a.AsOf.IsZero() && a.AsOf < entered {
		return "it was entered here only later, on " + entered.Words() + ", and no inspection before that counts"
	}
	return "nobody has inspected it hands-on since it was entered here"
}

// otherwise says what the date before the first round rests on.
func otherwise(a registry.Assessment) string {
	for _, c := range a.Candidates {
		if c.On != a.SoonestOn || c.Rule != "first-inspection" {
			continue
		}
		switch c.Values.Text("counted_from") {
		case "first-use":
			return "counted from its first use"
		case "set":
			return "by its age alone"
		}
		return "counted from the day of entry"
	}
	return "without that round"
}
