package postgres

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// recordRow is what every record begins with.
type recordRow struct {
	ID          uuid.UUID     `json:"id"`
	AnchorID    uuid.UUID     `json:"anchor_id"`
	DoneOnFrom  calendar.Date `json:"done_on_from"`
	DoneOnTo    calendar.Date `json:"done_on_to"`
	DoneOnWords string        `json:"done_on_words"`
	PersonID    *uuid.UUID    `json:"person_id"`
	Words       string        `json:"words"`
	Origin      word          `json:"origin"`
	RecordedAt  time.Time     `json:"recorded_at"`
	Replaces    *uuid.UUID    `json:"replaces"`
}

func (r recordRow) rowID() uuid.UUID { return r.ID }

func newRecordRow(r registry.Record) recordRow {
	return recordRow{
		r.ID, r.AnchorID, r.DoneOn.From, r.DoneOn.To, r.DoneOn.Words, r.PersonID, r.Words, word(r.Origin),
		instant(r.RecordedAt), r.Replaces,
	}
}

func (r recordRow) record() registry.Record {
	return registry.Record{
		ID: r.ID, AnchorID: r.AnchorID, DoneOn: span(r.DoneOnFrom, r.DoneOnTo, r.DoneOnWords), PersonID: r.PersonID,
		Words: r.Words, Origin: registry.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: r.Replaces,
	}
}

// instant is t as the database keeps it: whole microseconds, UTC.
func instant(t time.Time) time.Time { return t.UTC().Truncate(time.Microsecond) }

type inspectionRow struct {
	recordRow
	Level        word                   `json:"level"`
	Found        *bool                  `json:"found"`
	Observations []string               `json:"observations"`
	Verdict      word                   `json:"verdict"`
	InspectBy    calendar.Date          `json:"inspect_by"`
	Measured     []registry.Measurement `json:"measured"`
	Ticked       bool                   `json:"ticked"`
	ProposalID   *uuid.UUID             `json:"proposal_id"`
}

func newInspectionRow(i registry.Inspection) inspectionRow {
	return inspectionRow{
		newRecordRow(i.Record), word(i.Level), i.Found, texts(i.Observations), word(i.Verdict), i.InspectBy,
		append([]registry.Measurement{}, i.Measured...), i.Ticked, i.OfNote,
	}
}

func (r inspectionRow) noun() registry.Inspection {
	return registry.Inspection{
		Record: r.record(), Level: registry.Level(r.Level), Found: r.Found,
		Observations: fromTexts[registry.Observation](r.Observations), Verdict: registry.Verdict(r.Verdict),
		InspectBy: r.InspectBy, Measured: measured(r.Measured), Ticked: r.Ticked, OfNote: r.ProposalID,
	}
}

// measured is nil for no measurement, as it was recorded.
func measured(list []registry.Measurement) []registry.Measurement {
	if len(list) == 0 {
		return nil
	}
	return list
}

var inspections = newTable[inspectionRow]("inspection")
