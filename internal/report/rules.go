package report

import "rockledger/internal/registry"

// RulesPreview says what other house rules would change, before they are
// adopted: Anchors = DueEarlier + DueLater + Unchanged.
type RulesPreview struct {
	Heading       Heading // its rules version is that of the rules in force
	Anchors       int     // in the rock
	StandingMoves []Move  // worst first by where they go
	DueEarlier    int
	DueLater      int
	Unchanged     int // their date stays
	OverdueNow    int
	OverdueThen   int
	Moving        int // whose standing or date would change
	// First are the first of the anchors whose standing or date would change:
	// those whose standing would, the worst they come to first, then those whose
	// date comes sooner. At most MostRulesMoves.
	First []RulesMove
}

// MostRulesMoves is how many anchors a preview of house rules names.
const MostRulesMoves = 10

// RulesMove is what would become of one anchor; its line has the assessment of
// now.
type RulesMove struct {
	Line registry.ReportLine
	Then registry.Assessment
}

// Move is how many anchors would go from one standing to another.
type Move struct {
	From, To registry.Standing
	Count    int
}
