package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// lockIntake lets one intake of a group at a time through.
const lockIntake = `SELECT pg_advisory_xact_lock(hashtextextended('intake ' || $1::text, 0))`

// knownRows are the rows behind registry.Known.
type knownRows struct {
	sites      []siteRow
	sectors    []sectorRow
	routes     []routeRow
	positions  []positionRow
	stops      []stopRow
	persons    []personRow
	landowners []landownerRow
	parcels    []parcelRow
	products   []productRow
	batches    []batchRow
	imported   []importedRow
}

// importedRow is what is remembered of a row of an earlier list.
type importedRow struct {
	Key      string    `json:"key"`
	Print    string    `json:"print"`
	AnchorID uuid.UUID `json:"anchor_id"`
}

// selectImported leaves out rows of lists that were taken back; served by
// anchor_mistaken_idx. Imports made later have
// greater ids, so that the latest row of a spot comes last.
const selectImported = `
SELECT r.key, r.print, r.anchor_id
FROM import_row AS r
WHERE NOT EXISTS (SELECT FROM anchor AS a WHERE a.id = r.anchor_id AND a.mistaken)
ORDER BY r.import_id, r.line`

const byIDs = "\nORDER BY t.id"

func (k *knownRows) queue(b *pgx.Batch) {
	all(b, &k.sites, sites.selectSQL+byIDs, nil)
	all(b, &k.sectors, sectors.selectSQL+byIDs, nil)
	all(b, &k.routes, routes.selectSQL+byIDs, nil)
	all(b, &k.positions, positions.selectSQL+byIDs, nil)
	all(b, &k.stops, stops.selectSQL+"\nORDER BY t.route_id, t.rank, t.position_id", nil)
	all(b, &k.persons, persons.selectSQL+byIDs, nil)
	all(b, &k.landowners, landowners.selectSQL+byIDs, nil)
	all(b, &k.parcels, parcels.selectSQL+byIDs, nil)
	all(b, &k.products, products.selectSQL+byIDs, nil)
	all(b, &k.batches, batches.selectSQL+byIDs, nil)
	all(b, &k.imported, selectImported, nil)
}

func (k *knownRows) known() registry.Known {
	known := registry.Known{
		Sites:      convert(k.sites, siteRow.noun),
		Sectors:    convert(k.sectors, sectorRow.noun),
		Routes:     convert(k.routes, routeRow.noun),
		Positions:  convert(k.positions, positionRow.noun),
		Stops:      convert(k.stops, stopRow.noun),
		Persons:    convert(k.persons, personRow.noun),
		Landowners: convert(k.landowners, landownerRow.noun),
		Parcels:    convert(k.parcels, parcelRow.noun),
		Products:   convert(k.products, productRow.noun),
		Batches:    convert(k.batches, batchRow.noun),
		Rows:       make(map[string]registry.KnownRow, len(k.imported)),
	}
	for _, r := range k.imported {
		known.Rows[r.Key] = registry.KnownRow{Print: r.Print, AnchorID: r.AnchorID}
	}
	return known
}

// loadKnown waits for other intakes of the group to end, then reads what this
// one must know.
func (w *writer) loadKnown(ctx context.Context) (registry.Known, houserules.Rules, error) {
	var (
		b     pgx.Batch
		rows  knownRows
		rules rulesRow
	)
	b.Queue(setGroup, w.group.String())
	b.Queue(lockIntake, w.group.String())
	one(&b, &rules, selectRules, nil)
	rows.queue(&b)
	if err := translate(w.tx.SendBatch(ctx, &b).Close(), "load what is known"); err != nil {
		return registry.Known{}, houserules.Rules{}, err
	}
	r, err := rules.parse()
	return rows.known(), r, err
}
