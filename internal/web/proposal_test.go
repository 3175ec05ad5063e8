package web

import (
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// proposalsOf is a page with every part of it.
func proposalsOf() proposalsPage {
	window := calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 7, ToDay: 31}
	dry := false
	groups := []report.ProposalGroup{
		noteGroupOf(40, registry.Noted{Kind: registry.ProposesRestriction, Words: "bird ban Mar-Jul", Bars: registry.NoClimbing, Weight: registry.ByRequest, Yearly: &window}),
		noteGroupOf(1, registry.Noted{Kind: registry.ProposesDate, Words: "check next yr", InspectBy: theDay, CountedFrom: registry.FromCheck}),
		noteGroupOf(2, registry.Noted{Kind: registry.ProposesEnvironment, Words: "drips", Wetness: registry.Dripping, Washed: &dry}),
	}
	f := frameOf("Proposals from lists")
	page := proposalsPage{
		Frame: f, Notice: "Done.", Wrong: []string{"Something."}, Action: f.Base + "/proposals", Only: true, ImportID: theDay.String(),
	}
	page.Kinds = proposalKinds(f.Base, page.choose("", "", groups))
	return page
}

func noteGroupOf(n int, noted registry.Noted) report.ProposalGroup {
	g := report.ProposalGroup{Site: "Marrow Scar", Noted: noted}
	for i := range n {
		id := uuid.UUID{15: byte(i + 1)}
		g.Proposals = append(g.Proposals, registry.Proposal{ID: id, AnchorID: id, Line: i + 2, Noted: noted})
	}
	return g
}

// recallFormOf is the form of a notice, with what it would hit and a choice too
// long to be shown.
func recallFormOf() recallFormPage {
	f := wrongForm("title", "batch_ids")
	var batches []option
	for n := range byte(mostAtOnce + 1) {
		batches = append(batches, option{Value: id(n).String(), Text: "F-" + id(n).String()})
	}
	return recallFormPage{
		form: f, Frame: frameOf("Write a notice"), Action: "/n", Finders: []finder{newFinder(f, "batch_ids", batches)},
		Share: "About 1 anchor.", Counts: []string{"1 anchor"},
	}
}
