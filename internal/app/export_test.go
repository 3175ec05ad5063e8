package app

import "time"

// Outline is the geometry of a parcel, for tests.
type Outline = outline

// ParseOutline reads an outline.
var ParseOutline = parseOutline

// Area returns an outline's area in square metres.
func (o outline) Area() float64 { return o.area() }

// Holds says whether a place lies within.
func (o outline) Holds(lat, lon float64) bool { return o.holds(lat, lon) }

// Overlaps says whether two outlines cover the same land.
func (o outline) Overlaps(other Outline) bool { return o.overlaps(other) }

// WaitForReading makes the wait for another long list as short as a test needs it.
func (s *Service) WaitForReading(wait time.Duration) { s.readingWait = wait }

// CutPieces makes the pieces of long lists as small as a test needs them.
func (s *Service) CutPieces(rows int) { s.pieceRows = rows }
