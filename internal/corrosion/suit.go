package corrosion

import (
	"slices"

	"rockledger/internal/metal"
)

// Suit is whether a metal suits a place as far as corrosion goes. It is no
// permission to trust an anchor.
type Suit string

// The suits.
const (
	Suitable      Suit = "suitable"
	SuitableWatch Suit = "suitable-with-watch"
	SuitNotKnown  Suit = "not-known"
	SuitExpert    Suit = "expert-needed"
	Unsuitable    Suit = "unsuitable"
)

// worsening is the order in which one suit overrides another.
var worsening = []Suit{Suitable, SuitableWatch, SuitNotKnown, SuitExpert, Unsuitable}

// Suits returns whether a grade suits a place: the worst of what cracking and
// what uniform loss say, in the order suitable, with watch, not known, expert
// needed, unsuitable.
//
// Cracking: where it concerns the grade, unsuitable at high risk and with watch
// at medium; where an expert is needed, that at either.
//
// Uniform loss: titanium is suitable. Coated and bare steel and aluminium are
// unsuitable outdoors and underground, with watch indoors. In a cave stainless
// steel is suitable if it lasts underground, otherwise unsuitable. Elsewhere it
// is suitable from the class that the place asks for, with watch one class
// short, unsuitable two or more short.
//
// A grade that is not in the table is not known, and so is a place for which
// Required has no answer.
//
// Source: judgement of this project.
func Suits(g metal.Grade, p *Place) Suit {
	if _, ok := metal.Lookup(g); !ok || p.Validate() != nil {
		return SuitNotKnown
	}
	return worse(suitsCracking(g, p), suitsLoss(g, p))
}

func worse(a, b Suit) Suit {
	if slices.Index(worsening, a) > slices.Index(worsening, b) {
		return a
	}
	return b
}

func suitsCracking(g metal.Grade, p *Place) Suit {
	risk, concern := Cracking(p), ConcernOf(g)
	switch {
	case concern == NotConcerned || risk != RiskHigh && risk != RiskMedium:
		return Suitable
	case concern == ExpertNeeded:
		return SuitExpert
	case risk == RiskHigh:
		return Unsuitable
	}
	return SuitableWatch
}

func suitsLoss(g metal.Grade, p *Place) Suit {
	switch family := familyOf(g); {
	case family == metal.TitaniumFamily:
		return Suitable
	case family == metal.CarbonSteel || family == metal.AluminiumFamily:
		return suitsIf(p.Indoors, SuitableWatch)
	case p.Cave != "":
		return suitsIf(LastsUnderground(g), Suitable)
	}
	r, err := required(p)
	if err != nil {
		return SuitNotKnown
	}
	switch FitOf(g, r.Class) {
	case AboveClass, OfClass:
		return Suitable
	case OneShort:
		return SuitableWatch
	}
	return Unsuitable
}

func suitsIf(ok bool, then Suit) Suit {
	if ok {
		return then
	}
	return Unsuitable
}
