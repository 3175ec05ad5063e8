package report

import "rockledger/internal/registry"

// Work lists the anchors that ask for work, the most urgent first, with what to
// bring for each and for all of them together.
type Work struct {
	Heading Heading
	Items   []registry.WorkItem
	Kit     []registry.KitLine // summed over the items
	Replace int
	Repair  int
	Inspect int
}
