package wording

import (
	"strings"

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
	}
	return strings.ReplaceAll(c.Rule, "-", " ") + by(c.Source)
}

// every says which longest interval counts.
func every(c registry.Candidate) string {
	return row(c.Factor, c.Values.Text("row")) + " is looked at every " + months(c.Values.Text("months")) + by(c.Source)
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
	text += by(a.Reason.Source) + ": nobody has inspected it hands-on since it was entered here"
	if a.SoonestOn >= a.DueOn {
		return text + "."
	}
	return text + "; " + otherwise(a) + " it would have been due on " + a.SoonestOn.Words() + "."
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
