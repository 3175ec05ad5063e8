package registry

import "github.com/google/uuid"

// GluingStory is one session with all that was set in it, and what they name.
type GluingStory struct {
	Session GluingSession
	// ReplacedBy is the session that corrects this one; nil: none does.
	ReplacedBy    *uuid.UUID
	Installations []Installation // those that name the session or one that it replaces
	Anchors       []AnchorLine   // of the installations
	Persons       map[uuid.UUID]string
	Products      map[uuid.UUID]Product
	Batches       map[uuid.UUID]Batch
}
