package exchange

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

const months = `(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\.?`

// restricted are the ways to write what is barred when; the named parts are the
// kind of ban and its days.
var restricted = []*regexp.Regexp{
	clauseWords(`(?P<law>voluntary |agreed |seasonal )?(?:(?:nesting |breeding |roosting )?` + creatures + `|nesting|breeding|hibernation|seasonal|lambing|shooting|stalking|grouse)?[ -]?(?:(?P<what>climbing|access|entry|drilling|noise) )?(?:ban|bans|restrictions?|closure|restricted|no[ -]go)(?: in| from| between|:)? (?P<days>.+)`),
	clauseWords(`(?P<law>voluntary |agreed )?no (?P<what>climbing|access|entry|caving|visits|drilling|noise|bolting)(?: in| from| between|:)? (?P<days>.+?)(?: \(?(?:for |due to |because of )?(?:the |nesting |breeding |roosting )?(?:` + creatures + `|nesting|lambing|shooting)\)?)?`),
	clauseWords(`(?P<what>closed)(?: (?:for|due to|because of) (?:nesting |breeding |roosting )?(?:` + creatures + `|nesting))?(?: in| from| between|:)? (?P<days>.+?)(?: \(?(?:for |due to |because of )?(?:the |nesting |breeding |roosting )?(?:` + creatures + `|nesting|lambing|shooting)\)?)?`),
	clauseWords(`(?:(?:nesting|breeding) ` + birds + `|` + birds + ` (?:nesting|nest|breeding)|nesting|(?P<bats>bats?(?: (?:roosting|hibernating|roost|hibernation))?))(?: in| from| between|:)? (?P<days>.+)`),
}

const (
	birds     = `(?:birds?|seabirds?|raptors?|peregrines?|falcons?|ravens?|owls?|choughs?|kestrels?|puffins?|ring ouzels?)`
	creatures = `(?:` + birds + `|bats?|seals?)`
)

// restriction reads a ban with its yearly days. What stands behind it is not
// known from a note: it counts as a request, the lightest.
func (n *notes) restriction(said string) (registry.Noted, bool) {
	for _, p := range restricted {
		m := p.FindStringSubmatch(said)
		if m == nil {
			continue
		}
		w, ok := readWindow(m[p.SubexpIndex("days")])
		if !ok {
			continue
		}
		v := registry.Noted{Kind: registry.ProposesRestriction, Bars: registry.NoClimbing, Weight: registry.ByRequest, Yearly: &w}
		if at := p.SubexpIndex("what"); at > 0 {
			v.Bars = barredBy(m[at])
		}
		if at := p.SubexpIndex("bats"); at > 0 && m[at] != "" {
			v.Bars = registry.NoEntry
		}
		if at := p.SubexpIndex("law"); at > 0 && m[at] == "agreed " {
			v.Weight = registry.ByAgreement
		}
		return v, true
	}
	return registry.Noted{}, false
}

func barredBy(word string) registry.RestrictionKind {
	switch word {
	case "access", "entry", "caving", "visits", "closed":
		return registry.NoEntry
	case "drilling", "bolting":
		return registry.NoDrilling
	case "noise":
		return registry.NoNoise
	}
	return registry.NoClimbing
}

var (
	between = regexp.MustCompile(`^(.+?)(?: ?- ?| to | till | until | through | and )(.+)$`)
	dayTail = regexp.MustCompile(`^(?:(\d{1,2})(?:st|nd|rd|th)? (?:of )?)?(` + months + `)(?: (\d{1,2})(?:st|nd|rd|th)?)?$`)
	figures = regexp.MustCompile(`^(\d{1,2})[/.](\d{1,2})\.?$`)
)

// readWindow reads days that come back every year: "Mar-Jul", "1 March to 31
// July", "1/3-31/7", "May". A month alone is its whole length, February its 29
// days. Figures are read only where one of them can be no month.
func readWindow(text string) (calendar.Window, bool) {
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(text, "("), ")"))
	text = strings.TrimSuffix(strings.TrimSuffix(text, " inclusive"), " incl")
	from, to := text, text
	if m := between.FindStringSubmatch(text); m != nil {
		from, to = m[1], m[2]
	}
	w, ok := figuresWindow(from, to)
	if ok {
		return w, w.Validate() == nil
	}
	var first, last int
	w.FromMonth, first, ok = dayOfYear(from)
	if !ok {
		return w, false
	}
	w.ToMonth, last, ok = dayOfYear(to)
	if !ok || from == to && first > 0 {
		return w, false
	}
	w.FromDay, w.ToDay = max(first, 1), last
	if last == 0 {
		w.ToDay = lastDay(w.ToMonth)
	}
	return w, w.Validate() == nil
}

// lastDay is the last day that a month has in any year.
func lastDay(m time.Month) int {
	const leapYear = 2024
	_, _, day := (calendar.NewDate(leapYear, m, 1).AddMonths(1) - 1).Civil()
	return day
}

// dayOfYear reads a month, with or without a day of it; day 0 is none.
func dayOfYear(text string) (time.Month, int, bool) {
	m := dayTail.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil || m[1] != "" && m[3] != "" {
		return 0, 0, false
	}
	day, _ := strconv.Atoi(m[1] + m[3])
	if day == 0 && m[1]+m[3] != "" {
		return 0, 0, false
	}
	return monthNamed(m[2]), day, true
}

// monthNamed is the month that begins with the first three letters of a name.
func monthNamed(name string) time.Month {
	at := slices.Index([]string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}, name[:3])
	return time.Month(at + 1)
}

func figuresWindow(from, to string) (calendar.Window, bool) {
	a, b := figures.FindStringSubmatch(from), figures.FindStringSubmatch(strings.TrimSpace(to))
	if a == nil || b == nil {
		return calendar.Window{}, false
	}
	n := make([]int, 4)
	for i, text := range []string{a[1], a[2], b[1], b[2]} {
		n[i], _ = strconv.Atoi(text)
	}
	dayFirst, monthFirst := max(n[0], n[2]) > 12, max(n[1], n[3]) > 12
	switch {
	case dayFirst == monthFirst:
		return calendar.Window{}, false
	case dayFirst:
		return calendar.Window{FromMonth: time.Month(n[1]), FromDay: n[0], ToMonth: time.Month(n[3]), ToDay: n[2]}, true
	}
	return calendar.Window{FromMonth: time.Month(n[0]), FromDay: n[1], ToMonth: time.Month(n[2]), ToDay: n[3]}, true
}

const checking = `(?:please |must |to be |to |needs? (?:to be )?)?(?:re-?)?(?:check|checked|checking|inspect|inspected|inspection|look at|look|test|revisit|visit)(?: (?:it|this|again|back|bolt|anchor|due))*`

var (
	againNext   = clauseWords(checking + ` next (year|yr|season|month)`)
	againIn     = clauseWords(checking + ` in (\d{1,2}|a|an|one|two|three|four|five|six|ten|twelve) (month|year|yr)s?(?:'? time)?`)
	againYear   = clauseWords(`(?:next )?` + checking + ` ?(in|by|before|during|:)? ?(?:(` + months + `) )?(20\d\d)`)
	numberWords = map[string]int{
		"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "ten": 10, "twelve": 12,
	}
)

// date reads by when somebody wanted the anchor to be looked at again. "Next
// year" ends with the year after that of the row's last check, or, where that
// is not known, after that of the day of reading. Of what leaves a choice the
// earlier day counts.
func (n *notes) date(said string) (registry.Noted, bool) {
	v := registry.Noted{Kind: registry.ProposesDate, CountedFrom: registry.FromReading}
	base := n.asOf
	if n.row.CheckedOn.Known() {
		base, v.CountedFrom = n.row.CheckedOn.From, registry.FromCheck
	}
	if m := againNext.FindStringSubmatch(said); m != nil {
		y, month, _ := base.Civil()
		v.InspectBy = calendar.NewDate(y+1, time.December, 31)
		if m[1] == "month" {
			v.InspectBy = calendar.NewDate(y, month, 1).AddMonths(2) - 1
		}
		return v, true
	}
	if m := againIn.FindStringSubmatch(said); m != nil {
		count, named := numberWords[m[1]]
		if !named {
			count, _ = strconv.Atoi(m[1])
		}
		v.InspectBy = base.AddMonths(count)
		if m[2] != "month" {
			v.InspectBy = base.AddYears(count)
		}
		return v, count > 0
	}
	return n.statedDate(v, said)
}

// statedDate reads a year or month that the note names. One that was over when
// the anchor was last checked is answered: nothing comes of it.
func (n *notes) statedDate(v registry.Noted, said string) (registry.Noted, bool) {
	m := againYear.FindStringSubmatch(said)
	if m == nil {
		return registry.Noted{}, false
	}
	year, _ := strconv.Atoi(m[3])
	first, last := calendar.NewDate(year, time.January, 1), calendar.NewDate(year, time.December, 31)
	if m[2] != "" {
		first = calendar.NewDate(year, monthNamed(m[2]), 1)
		last = first.AddMonths(1) - 1
	}
	v.CountedFrom, v.InspectBy = registry.AsStated, last
	switch m[1] {
	case "by":
		v.InspectBy = first
	case "before":
		v.InspectBy = first - 1
	}
	if n.row.CheckedOn.Known() && v.InspectBy < n.row.CheckedOn.To {
		return registry.Noted{}, true
	}
	return v, true
}
