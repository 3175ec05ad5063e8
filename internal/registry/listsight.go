package registry

import (
	"slices"
	"strings"
)

// What an exported list says of an anchor's state is put together here, so that
// a list taken in is held against the very words that went out.

// Gone says whether the anchor itself is out of the rock.
func (s ListState) Gone() bool { return s == StateRemoved || s == StateReplaced }

// observed says what a list's state observes.
var observed = map[ListState][]Observation{
	StateSpins:       {Spins},
	StateLooseNut:    {LooseNut},
	StateRusty:       {Rust},
	StateSurfaceRust: {SurfaceRust},
	StateCrackedGlue: {CrackedGlue},
	StateHangerBent:  {HangerBent},
	StateUnsafe:      {CalledUnsafe},
	StateOther:       {UnclearWords},
}

// Observed lists what a list's state observes; it must not be modified.
func (s ListState) Observed() []Observation { return observed[s] }

// Told says whether a state by itself tells all that an inspection saw and
// decided. A nil inspection is told by no state.
func (s ListState) Told(i *Inspection) bool {
	if i == nil {
		return s == ""
	}
	decided := i.Verdict != verdictUnknown && i.Verdict != Keep
	return !decided && !s.Gone() && i.NotFound() == (s == StateNotFound) && slices.Equal(i.Observations, s.Observed())
}

// observationText says of each observation how a list has it.
var observationText = map[Observation]string{
	Spins:        "spins",
	AnchorTurns:  "anchor turns",
	HangerTurns:  "hanger turns",
	LooseNut:     "loose nut",
	Rust:         "rusty",
	SurfaceRust:  "surface rust",
	TeaStaining:  "tea staining",
	CrackedGlue:  "cracked glue",
	HangerBent:   "hanger bent",
	HollowSound:  "hollow sound",
	CrackedRock:  "cracked rock",
	CrackedMetal: "cracked metal",
	CalledUnsafe: "unsafe",
	UnclearWords: "not understood",
}

var verdictText = map[Verdict]string{
	TakeOutOfUse: "out of use",
	Repair:       "needs repair",
	KeepWatching: "watch",
}

// SightText says in the words of a list what an inspection saw and decided, ""
// for none or nothing.
func SightText(i *Inspection) string {
	if i == nil {
		return ""
	}
	var parts []string
	if i.NotFound() {
		parts = append(parts, "not found")
	}
	if text := verdictText[i.Verdict]; text != "" {
		parts = append(parts, text)
	}
	for _, o := range i.Observations {
		parts = append(parts, observationText[o])
	}
	if len(parts) == 0 && i.Verdict == Keep {
		return string(StateOK)
	}
	return strings.Join(parts, ", ")
}

var barredText = map[Standing]string{
	StandingOutOfUse: "out of use",
	NotInUseYet:      "not in use yet",
}

// Barred says whether a standing keeps the anchor from being used: a list never
// leaves that out.
func (s Standing) Barred() bool { return barredText[s] != "" }

// StateText puts before the words of what was seen that the anchor is out of use
// or not in use yet, unless they say so: an anchor must not look better on a
// list than in the register.
func StateText(standing Standing, seen string) string {
	words := barredText[standing]
	if words == "" || strings.Contains(Fold(seen), words) {
		return seen
	}
	return strings.TrimSuffix(words+", "+seen, ", ")
}
