package wording

import (
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Said is a field with what was recorded in it.
type Said struct{ Label, Value string }

// RecordedSession says what the head of a gluing card holds, in the order of
// the card, and names the fields that were left open. Times are told in zone.
func RecordedSession(s *registry.GluingSession, n Names, zone *time.Location) (said []Said, open []string) {
	values := map[string]string{
		"adhesive_id": n.product(s.AdhesiveID), "batch_id": n.batch(s.BatchID), "expires_on": s.ExpiresOn.Words(),
		"cartridge": s.Cartridge, "nozzle_new": yesNo(s.NozzleNew), "opened_at": Moment(s.OpenedAt, zone),
		"first_mix_discarded": yesNo(s.FirstMixDiscarded),
		"rock_c":              Reading(s.RockC), "air_c": Reading(s.AirC), "cartridge_c": Reading(s.CartridgeC), "night_c": Reading(s.NightC),
		"set_by_id": n.person(s.SetByID), "supervised_by_id": n.person(s.SupervisedByID), "checked_by_id": n.person(s.CheckedByID),
		"method_statement": s.MethodStatement, "sample_kept": yesNo(s.SampleKept), "sample_where": s.SampleWhere,
		"sample_at_rock": yesNo(s.SampleAtRock), "words": s.Words,
		"sample_found": chosen(s.SampleFound), "sample_found_on": s.SampleFoundOn.Words(), "sample_found_by_id": n.person(s.SampleFoundByID),
	}
	said, open = recorded(SessionFields(), values)
	found, _ := recorded(FoundFields(), values) // which nobody has to fill in
	return append(said, found...), open
}

// RecordedInstallation says what an anchor's line and its back hold, in the
// order of the card, and names the fields that were left open.
func RecordedInstallation(i *registry.Installation, n Names, zone *time.Location) (said []Said, open []string) {
	values := map[string]string{
		"form": chosen(i.Form), "hardware_id": n.product(i.HardwareID),
		"hole_diameter_mm": millimetres(i.HoleDiameter), "hole_depth_mm": millimetres(i.HoleDepth),
		"cleaning_cycles": whole(i.CleaningCycles), "moisture": chosen(i.Moisture), "set_at": Moment(i.SetAt, zone),
		"adhesive_id": n.product(i.AdhesiveID), "batch_id": n.batch(i.BatchID),
		"rock": chosen(i.Rock), "rock_words": i.RockWords, "rock_sound": chosen(i.RockSound), "cracks_seen": yesNo(i.CracksSeen),
		"edge_distance_mm": millimetres(i.EdgeDistance), "neighbour_distance_mm": millimetres(i.NeighbourDistance),
		"angle_deg": figure(i.AngleDeg), "embedded_length_mm": millimetres(i.Embedded),
		"recess_cut": yesNo(i.RecessCut), "dry_fit": yesNo(i.DryFit), "from_bottom": yesNo(i.FromBottom), "fill_pct": figure(i.FillPct),
		"turned": yesNo(i.Turned), "as_drawn": yesNo(i.AsDrawn), "surplus_wiped": yesNo(i.SurplusWiped),
		"hole": chosen(i.Hole), "old_hole_distance_mm": millimetres(i.OldHoleDistance),
		"torque_nm": figure(i.TorqueNM), "torque_tool": i.TorqueTool, "words": i.Words,
	}
	return recorded(append(LineFields(), MoreFields()...), values)
}

// recorded sorts the fields into those with a value and those left open.
func recorded(fields []CardField, values map[string]string) (said []Said, open []string) {
	for _, f := range fields {
		value := values[f.Name]
		f.Label = capital(strings.TrimPrefix(f.Label, "Other ")) // beside the session's, on the card
		if value == "" {
			open = append(open, f.Label)
			continue
		}
		if f.Unit != "" && f.Kind == CardNumber {
			value += " " + f.Unit
		}
		said = append(said, Said{f.Label, value})
	}
	return said, open
}

// Moment says when something happened, in zone: "2 May 2026, 14:05", "2 May
// 2026, between 13:30 and 14:30 (“about 14:00”)", "not known (“?”)". Blank:
// nothing is recorded.
func Moment(m calendar.Moment, zone *time.Location) string {
	switch {
	case !m.Known() && m.Words == "":
		return ""
	case !m.Known():
		return notKnown + " (“" + m.Words + "”)"
	}
	from, to := m.From.In(zone), m.To.In(zone)
	day := calendar.On(from, zone).Words() + ", "
	if from.Equal(to) {
		return day + from.Format("15:04")
	}
	text := day + "between " + from.Format("15:04") + " and "
	if last := calendar.On(to, zone); last != calendar.On(from, zone) {
		text += last.Words() + ", "
	}
	text += to.Format("15:04")
	if m.Words != "" {
		text += " (“" + m.Words + "”)"
	}
	return text
}

// Reading says a temperature and how it is known: "11 °C, measured". One of
// which nothing is said counts as assumed. Blank: not recorded.
func Reading(r *registry.Reading) string {
	if r == nil {
		return ""
	}
	how := "not said how, so taken as assumed"
	if r.How != "" {
		how = lower(Label(r.How))
	}
	return Celsius(r.C) + ", " + how
}

// Celsius says a temperature: "11 °C", "−2.5 °C".
func Celsius(t quantity.Temperature) string {
	text := strconv.FormatFloat(t.Celsius(), 'f', -1, 64)
	if t < 0 {
		text = "−" + text[1:]
	}
	return text + " °C"
}

func (n Names) person(id *uuid.UUID) string {
	if id == nil {
		return ""
	}
	return n.Persons[*id]
}

func (n Names) product(id *uuid.UUID) string {
	if id == nil {
		return ""
	}
	return ProductName(n.Products[*id])
}

func (n Names) batch(id *uuid.UUID) string {
	if id == nil {
		return ""
	}
	return n.Batches[*id].Text
}

// yesNo says an answer; blank: none was recorded.
func yesNo(v *bool) string {
	switch {
	case v == nil:
		return ""
	case *v:
		return "yes"
	}
	return "no"
}

// chosen says a value of a closed list; blank: none was recorded.
func chosen[T ~string](v T) string {
	if v == "" {
		return ""
	}
	return Label(v)
}

func millimetres(l *quantity.Length) string {
	if l == nil {
		return ""
	}
	return strconv.FormatFloat(l.Millimetres(), 'f', -1, 64)
}

func whole(n *int) string {
	if n == nil {
		return ""
	}
	return strconv.Itoa(*n)
}

func figure(v *float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v, 'f', -1, 64)
}
