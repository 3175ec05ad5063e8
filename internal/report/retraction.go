package report

import (
	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// Retraction says what would follow if a record of an anchor were taken back
// today: how the anchor stands with the record and without it.
type Retraction struct {
	Now, Then registry.Assessment
	// Revived are other records that would count again, Lost those that would
	// count no more; by id, in no particular order.
	Revived, Lost []uuid.UUID
}
