package report

import "rockledger/internal/registry"

// Notice says what a notice is or would be about, and how far that has come.
type Notice struct {
	Heading Heading
	Notice  registry.Notice
	Living  int // anchors in the rock, in the whole register
	// ByHit and ByProgress count the anchors in the rock that it is about; one
	// that is not issued, or was closed, has no progress.
	ByHit      map[registry.NoticeHit]int
	ByProgress map[registry.NoticeProgress]int
	// Lines are a page of them, in the order of ids, or those of each hit that a
	// preview shows, the surest first. What was never assessed has no line.
	Lines []registry.NoticeLine
}

// About is how many anchors it is about.
func (n *Notice) About() int {
	sum := 0
	for _, count := range n.ByHit {
		sum += count
	}
	return sum
}

// SharePct is what share of the anchors in the rock it is about, in percent; 0 of
// none.
func (n *Notice) SharePct() float64 {
	if n.Living == 0 {
		return 0
	}
	return 100 * float64(n.About()) / float64(n.Living)
}

// Trace says where a batch went.
type Trace struct {
	Heading Heading
	registry.BatchTrace
	Product string                // its name; blank: not known
	MayBe   []registry.ReportLine // those of Possible, MostMayBe of them at most
}

// MostMayBe is how many of the anchors that may have been set with a batch a
// trace names.
const MostMayBe = 500
