package postgres

import (
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type settlementRow struct {
	recordRow
	Rule    string          `json:"rule"`
	Values  registry.Values `json:"values"`
	Reason  string          `json:"reason"`
	UntilOn calendar.Date   `json:"until_on"`
}

func newSettlementRow(s registry.Settlement) settlementRow {
	return settlementRow{newRecordRow(s.Record), s.Rule, values(s.Values), s.Reason, s.Until}
}

func (r settlementRow) noun() registry.Settlement {
	return registry.Settlement{
		Record: r.record(), Rule: r.Rule, Values: values(r.Values), Reason: r.Reason, Until: r.UntilOn,
	}
}

var settlements = newTable[settlementRow]("settlement")

type retractionRow struct {
	recordRow
	RetractsID uuid.UUID `json:"retracts_id"`
	Reason     string    `json:"reason"`
}

func newRetractionRow(r registry.Retraction) retractionRow {
	return retractionRow{newRecordRow(r.Record), r.RetractsID, r.Reason}
}

func (r retractionRow) noun() registry.Retraction {
	return registry.Retraction{Record: r.record(), RetractsID: r.RetractsID, Reason: r.Reason}
}

var retractions = newTable[retractionRow]("retraction")
