package postgres

import (
	"context"
	"slices"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// lockIntake lets one intake of a group at a time through.
const lockIntake = `SELECT pg_advisory_xact_lock(hashtextextended('intake ' || $1::text, 0))`

// knownRows are the rows behind registry.Known.
type knownRows struct {
	names      []siteName
	sites      []siteRow
	sectors    []sectorRow
	routes     []routeRow
	spots      []spotRow
	stops      []stopRow
	persons    []personRow
	landowners []landownerRow
	parcels    []parcelRow
	products   []productRow
	batches    []batchRow
	imported   []importedRow
	entered    []enteredBefore
	criteria   criteriaRows
	sheeted    []uuid.UUID
}

// selectSheeted is served by product_version_of_product_idx.
const selectSheeted = `
SELECT v.product_id AS id
FROM product_version AS v
GROUP BY v.product_id
ORDER BY v.product_id`

// siteName is what a site is found by.
type siteName struct {
	ID   uuid.UUID `json:"id"`
	Name string    `json:"name"`
}

const selectSiteNames = `
SELECT t.id, t.name
FROM site AS t
WHERE t.ended_on IS NULL
ORDER BY t.id`

// spotRow is where a position is.
type spotRow struct {
	ID       uuid.UUID  `json:"id"`
	SiteID   uuid.UUID  `json:"site_id"`
	SectorID *uuid.UUID `json:"sector_id"`
	Label    string     `json:"label"`
}

func (r spotRow) noun() registry.Position {
	return registry.Position{ID: r.ID, SiteID: r.SiteID, SectorID: r.SectorID, Label: r.Label}
}

// selectSpots is served by position_by_site_key.
const selectSpots = `
SELECT t.id, t.site_id, t.sector_id, t.label
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (
  SELECT p.id, p.site_id, p.sector_id, p.label
  FROM position AS p
  WHERE p.site_id = k.id AND p.ended_on IS NULL
  OFFSET 0) AS t
ORDER BY t.id`

// routesOfSites is served by route_by_site_key.
const routesOfSites = `(
  SELECT r.id
  FROM unnest(@ids::uuid[]) AS i (id)
  CROSS JOIN LATERAL (SELECT r.id FROM route AS r WHERE r.site_id = i.id OFFSET 0) AS r)`

// importedRow is what is remembered of a row of an earlier list.
type importedRow struct {
	Key      string    `json:"key"`
	Print    string    `json:"print"`
	AnchorID uuid.UUID `json:"anchor_id"`
}

// selectImported reads the latest row of each of the spots, but for lists that
// were taken back: imports made later have greater ids. Served by
// import_row_by_key_idx and anchor_mistaken_idx.
const selectImported = `
SELECT t.key, t.print, t.anchor_id
FROM unnest(@keys::text[]) AS k (key)
CROSS JOIN LATERAL (
  SELECT r.key, r.print, r.anchor_id
  FROM import_row AS r
  WHERE r.key = k.key AND ` + inForce + ` AND NOT EXISTS (SELECT FROM anchor AS a WHERE a.id = r.anchor_id AND a.mistaken)
  ORDER BY r.import_id DESC, r.line DESC
  LIMIT 1) AS t
ORDER BY t.key`

// selectEntered reads how the lists of the same bytes were read that were entered
// before and not taken back, oldest first.
const selectEntered = `
SELECT i.report->'columns' AS columns
FROM import AS i
WHERE i.file_hash = @hash
  AND i.id <> @own
  AND NOT EXISTS (SELECT FROM import_undo AS u WHERE u.import_id = i.id)
ORDER BY i.id`

type enteredBefore struct {
	Columns pastColumns `json:"columns"`
}

const byIDs = "\nORDER BY t.id"

// queue adds the queries for what is found by name, and for rows by key.
func (k *knownRows) queue(b *pgx.Batch, wanted *registry.Wanted) {
	rows := wanted.Rows
	if len(rows) == 0 {
		return
	}
	if wanted.FileHash != "" {
		all(b, &k.entered, selectEntered, pgx.StrictNamedArgs{"hash": wanted.FileHash, "own": wanted.Import})
	}
	all(b, &k.names, selectSiteNames, nil)
	all(b, &k.persons, persons.selectSQL+byIDs, nil)
	all(b, &k.landowners, landowners.selectSQL+byIDs, nil)
	all(b, &k.parcels, parcels.selectSQL+byIDs, nil)
	all(b, &k.products, products.selectSQL+byIDs, nil)
	all(b, &k.batches, batches.selectSQL+byIDs, nil)
	all(b, &k.imported, selectImported, pgx.StrictNamedArgs{"keys": keysOf(rows)})
	k.criteria.queue(b)
	ids(b, &k.sheeted, selectSheeted, nil)
}

// queuePlaces adds the queries for what is at the sites that rows name.
func (k *knownRows) queuePlaces(b *pgx.Batch, sitesNamed []uuid.UUID) {
	args := pgx.StrictNamedArgs{"ids": sitesNamed}
	all(b, &k.sites, sites.of("id", theseIDs)+byIDs, args)
	all(b, &k.sectors, sectors.of("site_id", theseIDs)+byIDs, args)
	all(b, &k.routes, routes.of("site_id", theseIDs)+byIDs, args)
	all(b, &k.spots, selectSpots, args)
	all(b, &k.stops, stops.of("route_id", routesOfSites)+"\nORDER BY t.route_id, t.rank, t.position_id", args)
}

// keysOf lists the keys of rows, each once.
func keysOf(rows []registry.ListRow) []string {
	keys := make([]string, 0, len(rows))
	for i := range rows {
		keys = append(keys, rows[i].Key())
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

// named lists the stored sites that rows name.
func (k *knownRows) named(rows []registry.ListRow) []uuid.UUID {
	names := make(map[string]bool)
	for i := range rows {
		names[registry.Fold(rows[i].Site)] = true
	}
	var found []uuid.UUID
	for _, s := range k.names {
		if names[registry.Fold(s.Name)] {
			found = append(found, s.ID)
		}
	}
	return distinct(found)
}

func (k *knownRows) known() registry.Known {
	known := registry.Known{
		Sites:      convert(k.sites, siteRow.noun),
		Sectors:    convert(k.sectors, sectorRow.noun),
		Routes:     convert(k.routes, routeRow.noun),
		Positions:  convert(k.spots, spotRow.noun),
		Stops:      convert(k.stops, stopRow.noun),
		Persons:    convert(k.persons, personRow.noun),
		Landowners: convert(k.landowners, landownerRow.noun),
		Parcels:    convert(k.parcels, parcelRow.noun),
		Products:   convert(k.products, productRow.noun),
		Batches:    convert(k.batches, batchRow.noun),
		Rows:       make(map[string]registry.KnownRow, len(k.imported)),
		Notices:    k.criteria.nouns(),
		Sheeted:    make(map[uuid.UUID]bool, len(k.sheeted)),
	}
	for _, id := range k.sheeted {
		known.Sheeted[id] = true
	}
	for _, e := range k.entered {
		known.Entered = append(known.Entered, registry.EnteredList{Columns: e.Columns.byField()})
	}
	for _, r := range k.imported {
		known.Rows[r.Key] = registry.KnownRow{Print: r.Print, AnchorID: r.AnchorID}
	}
	return known
}

// setLockWait says how long the statements of a transaction that follow wait
// for a lock, milliseconds; 0: as long as it takes.
const setLockWait = `SELECT set_config('lock_timeout', $1, true)`

// holdIntake waits for other intakes of the group to end and keeps them off: for
// up to wait, then it is fault.Busy; 0: as long as it takes.
func (w *writer) holdIntake(ctx context.Context, wait time.Duration) (houserules.Rules, error) {
	var rules rulesRow
	err := w.ask(ctx, "hold off other intakes", func(b *pgx.Batch) {
		b.Queue(setGroup, w.group.String())
		b.Queue(setLockWait, strconv.FormatInt(wait.Milliseconds(), 10))
		b.Queue(lockIntake, w.group.String())
		b.Queue(setLockWait, "0")
		one(b, &rules, selectRules, nil)
	})
	if stateOf(err) == lockNotAvailable {
		return houserules.Rules{}, fault.Wrap(fault.Busy, err, "another list is being entered").With("waits_for", "intake")
	}
	if err != nil {
		return houserules.Rules{}, err
	}
	return rules.parse()
}

// loadKnown reads what an intake must know, and locks the anchors that it may
// change; other intakes are held off.
func (w *writer) loadKnown(ctx context.Context, wanted registry.Wanted) (registry.Known, error) {
	var rows knownRows
	if len(wanted.Rows) > 0 {
		if err := w.ask(ctx, "load what is known", func(b *pgx.Batch) { rows.queue(b, &wanted) }); err != nil {
			return registry.Known{}, err
		}
		if at := rows.named(wanted.Rows); len(at) > 0 {
			if err := w.ask(ctx, "load places", func(b *pgx.Batch) { rows.queuePlaces(b, at) }); err != nil {
				return registry.Known{}, err
			}
		}
	}
	known := rows.known()
	if wanted.Anchors == nil {
		return known, nil
	}
	return known, w.loadNeeded(ctx, &known, wanted.Anchors(known))
}
