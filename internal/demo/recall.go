package demo

import (
	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// unwritten is of how many anchors set with the recalled batch nobody wrote that
// down.
const unwritten = 2

// recall invents a maker's recall of one batch of resin, two to five years old:
// the anchors on record with it are sure hits, those of that resin whose batch
// nobody wrote down possible ones.
func (s *scene) recall() {
	batch := s.recalled()
	if batch == nil {
		return
	}
	s.forgetBatch(batch.ID)
	s.change.Notices = append(s.change.Notices, registry.Notice{
		ID: s.id(), Title: "Recall of resin " + batch.Text + " (invented)",
		Words:    "The maker found cartridges of this batch that stayed soft. Inspect every anchor set with it, hands-on; where the batch was not written down, look as well.",
		IssuedOn: s.asOf.AddDays(-9), InspectBy: s.asOf.AddDays(50),
		Criterion: registry.NoticeCriterion{BatchIDs: []uuid.UUID{batch.ID}, From: batch.ReceivedOn, To: batch.ExpiresOn},
	})
}

// recalled is the batch of that time that most anchors were set with, nil if
// there is none.
func (s *scene) recalled() *registry.Batch {
	uses := make(map[uuid.UUID]int)
	for k := range s.change.Installations {
		if id := s.change.Installations[k].BatchID; id != nil {
			uses[*id]++
		}
	}
	var most *registry.Batch
	for k := range s.change.Batches {
		b := &s.change.Batches[k]
		if b.ReceivedOn < s.asOf.AddYears(-5) || b.ReceivedOn > s.asOf.AddYears(-2) {
			continue
		}
		if most == nil || uses[b.ID] > uses[most.ID] {
			most = b
		}
	}
	return most
}

// forgetBatch takes the batch out of some installations, as if nobody had written
// it down. Their resin stays.
func (s *scene) forgetBatch(batch uuid.UUID) {
	left := unwritten
	for k := range s.change.Installations {
		if i := &s.change.Installations[k]; left > 0 && i.BatchID != nil && *i.BatchID == batch {
			i.BatchID = nil
			left--
		}
	}
}
