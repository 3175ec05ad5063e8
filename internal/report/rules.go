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
}

// Move is how many anchors would go from one standing to another.
type Move struct {
	From, To registry.Standing
	Count    int
}
