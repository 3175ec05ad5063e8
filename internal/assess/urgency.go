package assess

import (
	"bytes"
	"cmp"

	"rockledger/internal/registry"
	"rockledger/internal/suspicion"
)

// Why an anchor is in its band: words of wording's list.
const (
	ReasonOutOfUse           = "out-of-use"
	ReasonOutOfUseMarked     = "out-of-use-marked" // at the rock
	ReasonSuspectBelay       = "suspect-belay"
	ReasonSuspectMainHang    = "suspect-main-hang"
	ReasonSuspectSinglePoint = "suspect-single-point"
	ReasonSuspect            = "suspect-elsewhere"
	ReasonLongOverdue        = "long-overdue"
	ReasonOverdue            = "overdue"
	ReasonWatch              = "watch"
	ReasonNotInUseYet        = "not-in-use-yet"
	ReasonNothing            = "nothing-pressing"
	ReasonRemoved            = "removed"
)

// BandReasons lists the reasons.
func BandReasons() []string {
	return []string{
		ReasonOutOfUse, ReasonOutOfUseMarked, ReasonSuspectBelay, ReasonSuspectMainHang,
		ReasonSuspectSinglePoint, ReasonSuspect,
		ReasonLongOverdue, ReasonOverdue, ReasonWatch, ReasonNotInUseYet, ReasonNothing, ReasonRemoved,
	}
}

// band says how urgent an anchor is, and why, by the worst standing of the
// order, also for an anchor that is not located. One that is not in use yet is
// as urgent as what is found of it where that makes it suspect: nothing at the
// rock keeps people off it.
func band(f *registry.Facts, held suspicion.Held, due registry.DueState, longOverdue bool) (registry.Band, string) {
	s, doubted := worst(held), found(held).Rank() >= registry.StandingSuspect.Rank()
	switch {
	case s == registry.StandingOutOfUse && f.Marked():
		return registry.BandThisYear, ReasonOutOfUseMarked
	case s == registry.StandingOutOfUse:
		return registry.BandNow, ReasonOutOfUse
	case doubted:
		return suspectBand(f)
	case s == registry.NotInUseYet:
		return registry.BandWhenPassing, ReasonNotInUseYet
	case longOverdue:
		return registry.BandThisSeason, ReasonLongOverdue
	case due == registry.Overdue:
		return registry.BandThisYear, ReasonOverdue
	case s == registry.StandingWatch:
		return registry.BandThisYear, ReasonWatch
	}
	return registry.BandWhenPassing, ReasonNothing
}

func suspectBand(f *registry.Facts) (registry.Band, string) {
	switch {
	case consequence(f) == registry.SinglePoint:
		return registry.BandNow, ReasonSuspectSinglePoint
	case f.Position.Role == registry.Belay:
		return registry.BandNow, ReasonSuspectBelay
	case f.Position.Role == registry.MainHang:
		return registry.BandNow, ReasonSuspectMainHang
	}
	return registry.BandThisSeason, ReasonSuspect
}

// consequence is what hangs on the anchor. A role that is not known counts as
// one of an assembly.
func consequence(f *registry.Facts) registry.Consequence {
	p := &f.Position
	if p.BackedUp != nil && !*p.BackedUp {
		return registry.SinglePoint
	}
	if f.InAssembly {
		return registry.InAssembly
	}
	switch p.Role {
	case registry.Runner, registry.Handline, registry.Traverse, registry.Aid:
		return registry.OneOfMany
	}
	return registry.InAssembly
}

// Less orders assessments by urgency: band, then consequence, then how late
// against the date before any first round raised it, then the oldest (not known
// counts as oldest), then id.
func Less(a, b registry.Assessment) bool {
	return cmp.Or(
		cmp.Compare(a.Band.Rank(), b.Band.Rank()),
		cmp.Compare(a.Consequence, b.Consequence),
		cmp.Compare(a.SoonestOn, b.SoonestOn),
		cmp.Compare(a.OldestOn, b.OldestOn),
		bytes.Compare(a.AnchorID[:], b.AnchorID[:]),
	) < 0
}
