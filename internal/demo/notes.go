package demo

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// listedRoute is a climb that the group took over with a neighbour's list.
const listedRoute = "Hand-me-down"

// takeOver imports a short invented list, with the notes that such lists have,
// and accepts one of them; the others wait for whoever tries the demonstration.
func takeOver(ctx context.Context, service *app.Service, who registry.Actor) error {
	if _, err := service.Import(ctx, who, notedList(service.AsOf(who)), false); err != nil {
		return fmt.Errorf("import the invented list: %w", err)
	}
	wet, err := service.Proposals(ctx, who, registry.ProposalFilter{Kind: registry.ProposesEnvironment}, registry.Page{})
	if err != nil {
		return fmt.Errorf("list what the invented list proposes: %w", err)
	}
	ids := make([]uuid.UUID, len(wet))
	for i, p := range wet {
		ids[i] = p.ID
	}
	if _, err = service.DecideProposals(ctx, who, registry.ProposalDecision{Decision: registry.Accept, IDs: ids}); err != nil {
		return fmt.Errorf("accept a note of the invented list: %w", err)
	}
	return nil
}

// notedList is the list as it would be read from its file.
func notedList(asOf calendar.Date) registry.List {
	seen := asOf.AddYears(-1)
	ban := registry.Noted{
		Kind: registry.ProposesRestriction, Words: "bird ban Mar-Jul", Bars: registry.NoClimbing, Weight: registry.ByRequest,
		Yearly: &calendar.Window{FromMonth: time.March, FromDay: 1, ToMonth: time.July, ToDay: 31},
	}
	y, _, _ := seen.Civil()
	next := registry.Noted{
		Kind: registry.ProposesDate, Words: "check next year", InspectBy: calendar.NewDate(y+1, time.December, 31), CountedFrom: registry.FromCheck,
	}
	ask := registry.Noted{Kind: registry.ProposesAgreement, Words: "ask farmer first"}
	rows := []struct {
		notes string
		noted []registry.Noted
	}{
		{"bird ban Mar-Jul", []registry.Noted{ban}},
		{"bird ban Mar-Jul; bit hollow sounding", []registry.Noted{ban, {
			Kind: registry.ProposesObservation, Words: "bit hollow sounding", Observation: registry.HollowSound,
		}}},
		{"bird ban Mar-Jul; drips onto bolt", []registry.Noted{ban, {
			Kind: registry.ProposesEnvironment, Words: "drips onto bolt", Wetness: registry.Dripping,
		}}},
		{"bird ban Mar-Jul; check next year", []registry.Noted{ban, next}},
		{"bird ban Mar-Jul; ask farmer first; low off only", []registry.Noted{ban, ask, {
			Kind: registry.ProposesRole, Words: "low off only", Role: registry.LowerOff,
		}}},
	}
	list := registry.List{
		FileName: "neighbours (invented).csv", FileHash: fmt.Sprintf("%064x", 1996), Encoding: "UTF-8", Delimiter: ",",
		Headings: []string{"Site", "Sector", "Route", "Anchor", "Steel", "Last checked", "Landowner", "Notes"},
		Columns: map[string]string{
			"site": "Site", "sector": "Sector", "route": "Route", "position": "Anchor", "metal": "Steel",
			"last_inspected": "Last checked", "landowner": "Landowner", "notes": "Notes",
		},
	}
	for i, r := range rows {
		at := plan[0]
		row := registry.ListRow{
			Line: i + 2, Site: at.name, SiteKind: at.kind, Sector: at.sectors[0].name, Route: listedRoute, RouteKind: registry.Climb,
			Label: "B" + strconv.Itoa(i+1), Metal: metal.NewSet("1.4404"), MetalWords: "316L", CheckedOn: calendar.Exactly(seen),
			Landowner: at.owner, Notes: r.notes, Noted: r.noted,
		}
		row.Cells = []string{row.Site, row.Sector, row.Route, row.Label, row.MetalWords, seen.String(), row.Landowner, row.Notes}
		list.Rows = append(list.Rows, row)
	}
	return list
}
