package wording

import (
	"strconv"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// Maintenance says what somebody did to an anchor that stays: "Maintained on 2
// May 2026 by A. Example: nut or bolt tightened. ..."
func Maintenance(m registry.Maintenance, fittings []registry.Fitting, n Names) string {
	s := sentences{"Maintained " + On(m.DoneOn) + n.by(m.PersonID) + ": " + listed(m.Done) + "."}
	if old := fittingName(fittings, m.FittingID); old != "" {
		switch {
		case m.Did(registry.FittingRenewed):
			s.add("The " + old + " was renewed.")
		case m.Did(registry.FittingTaken):
			s.add("The " + old + " was taken off.")
		default:
			s.add("It was the " + old + ".")
		}
	}
	if fresh := fittingMetal(fittings, m.NewFittingID); fresh != "" {
		s.add("New: " + fresh + ".")
	}
	switch {
	case m.TorqueNM != nil && m.TorqueTool != "":
		s.add("Torque " + torque(*m.TorqueNM) + ", with “" + m.TorqueTool + "”.")
	case m.TorqueNM != nil:
		s.add("Torque " + torque(*m.TorqueNM) + ".")
	case m.TorqueTool != "":
		s.add("Tool: “" + m.TorqueTool + "”.")
	}
	return s.with(m.Record)
}

func torque(nm float64) string { return strconv.FormatFloat(nm, 'f', -1, 64) + " Nm" }

// fittingName names a fitting; "" for none.
func fittingName(list []registry.Fitting, id *uuid.UUID) string {
	for i := range list {
		if id != nil && list[i].ID == *id {
			return strings.ToLower(Label(list[i].Kind))
		}
	}
	return ""
}

// fittingMetal names a fitting and its metal; "" for none.
func fittingMetal(list []registry.Fitting, id *uuid.UUID) string {
	for i := range list {
		if id != nil && list[i].ID == *id {
			return strings.ToLower(Label(list[i].Kind)) + ", metal " + Metal(list[i].Metal, list[i].MetalWords)
		}
	}
	return ""
}

// listed names values of a closed list in one sentence.
func listed[T ~string](list []T) string {
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = lower(Label(v))
	}
	return strings.Join(words, ", ")
}

// SettlingKinds says which kinds of record settle findings: "inspection,
// hands-on or closer; nut or bolt tightened; a named person's answer".
func SettlingKinds(kinds []string) string {
	parts := make([]string, len(kinds))
	for i, kind := range kinds {
		switch registry.Level(kind) {
		case registry.Glance, registry.HandsOn:
			parts[i] = "inspection, " + Level(registry.Level(kind)) + " or closer"
		case registry.Full:
			parts[i] = "inspection in full"
		default:
			parts[i] = lower(Label(kind))
		}
	}
	return strings.Join(parts, "; ")
}

// Marking says what was done at the rock to keep people off an anchor, or that
// it was taken away.
func Marking(m registry.Marking, n Names) string {
	if m.Lifts != nil {
		return sentences{"Marking at the rock taken away " + On(m.DoneOn) + n.by(m.PersonID) + "."}.with(m.Record)
	}
	return sentences{"Marked at the rock " + On(m.DoneOn) + n.by(m.PersonID) + ": " + listed(m.How) + "."}.with(m.Record)
}

// MarkedNow says which markings stand at the rock: "Marked at the rock: tape on
// it (since 2 May 2026)."
func MarkedNow(list []registry.Marking) string {
	var parts []string
	for i := range list {
		parts = append(parts, listed(list[i].How)+" (since "+list[i].DoneOn.String()+")")
	}
	if len(parts) == 0 {
		return ""
	}
	return "Marked at the rock: " + strings.Join(parts, "; ") + "."
}

// NotMarked says of an anchor that is out of use that nobody can see so.
const NotMarked = "No marking at the rock is recorded: whoever comes by cannot see that it is out of use. Mark it, and record that here."

// MarkedRow says in a list whether an anchor that is out of use is marked at the
// rock, which its band tells; "" for any other.
func MarkedRow(s registry.Standing, b registry.Band) string {
	switch {
	case s != registry.StandingOutOfUse:
		return ""
	case b == registry.BandNow:
		return "No marking recorded"
	}
	return "Marked at the rock"
}

// Removal says how an anchor came out.
func Removal(r registry.Removal, n Names) string {
	s := sentences{"Removed " + On(r.DoneOn) + n.by(r.PersonID) + "."}
	if r.How != "" {
		s.add("How: " + lower(Label(r.How)) + ".")
	}
	if r.Stub != nil {
		s.add("What is left stands " + Length(r.Stub) + " out of the rock.")
	}
	if r.OldHole != "" {
		s.add("The hole: " + lower(Label(r.OldHole)) + ".")
	}
	if len(r.Observations) > 0 {
		s.add("Seen once it was out: " + observations(r.Observations) + ".")
	}
	switch {
	case r.MetalKept == nil:
	case !*r.MetalKept:
		s.add("The metal was not kept.")
	case r.MetalWhere == "":
		s.add("The metal was kept.")
	default:
		s.add("The metal was kept: “" + r.MetalWhere + "”.")
	}
	return s.with(r.Record)
}
