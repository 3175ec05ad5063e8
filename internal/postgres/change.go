package postgres

import (
	"bytes"
	"context"
	"maps"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// Change locks the anchors in id order, loads their facts (in the order asked
// for) and the house rules, lets decide say what becomes of them, and saves
// that with its ledger rows, assessments and history. A change without content
// writes nothing.
//
// decide must be pure: it runs inside the transaction. Its error aborts the
// change and is returned as it is. An anchor that is not there is
// fault.NotFound; a version that is not the stored one is fault.Stale; an id
// that is taken is fault.Conflict.
func (s *Store) Change(ctx context.Context, who registry.Actor, anchors []uuid.UUID,
	decide func([]registry.Facts, houserules.Rules) (registry.Change, error),
) error {
	return s.write(ctx, who, "change", func(w *writer) (registry.Change, error) {
		facts, rules, err := w.loadFacts(ctx, anchors)
		if err != nil {
			return registry.Change{}, err
		}
		ch, err := decide(facts, rules)
		if err != nil {
			return registry.Change{}, decided{err}
		}
		return ch, nil
	})
}

// ChangeAndAssess saves what decide says as Change does, then reads the facts of
// the anchors locked and of those that are new once more, as the change leaves
// them, and saves the assessments that judge makes of these. It serves where what
// a change names (a session, a sheet) is not among the facts before it.
//
// decide and judge must be pure: they run inside the transaction, and an error of
// either aborts it and is returned as it is. A change
// without content writes nothing, and judge is not asked.
func (s *Store) ChangeAndAssess(ctx context.Context, who registry.Actor, anchors []uuid.UUID,
	decide func([]registry.Facts, houserules.Rules) (registry.Change, error),
	judge func(registry.Facts, houserules.Rules) (registry.Assessment, error),
) error {
	return s.write(ctx, who, "change", func(w *writer) (registry.Change, error) {
		facts, rules, err := w.loadFacts(ctx, anchors)
		if err != nil {
			return registry.Change{}, err
		}
		ch, err := decide(facts, rules)
		if err != nil {
			return registry.Change{}, decided{err}
		}
		w.judge = func(f registry.Facts) (registry.Assessment, error) {
			a, err := judge(f, rules)
			if err != nil {
				return registry.Assessment{}, decided{err}
			}
			return a, nil
		}
		return ch, nil
	})
}

// Intake holds off other intakes of the group, loads what is wanted, lets
// decide say what to enter, and saves it as Change does. The anchors wanted,
// those that are there, are locked in id order before decide is asked. Where
// others do not end within 20 s it is fault.Busy.
func (s *Store) Intake(ctx context.Context, who registry.Actor, wanted registry.Wanted,
	decide func(registry.Known, houserules.Rules) (registry.Change, error),
) error {
	return s.write(ctx, who, "intake", func(w *writer) (registry.Change, error) {
		rules, err := w.holdIntake(ctx, s.intakeWait)
		if err != nil {
			return registry.Change{}, err
		}
		known, err := w.loadKnown(ctx, wanted)
		if err != nil {
			return registry.Change{}, err
		}
		ch, err := decide(known, rules)
		if err != nil {
			return registry.Change{}, decided{err}
		}
		return ch, nil
	})
}

// Write saves a change that rests on no facts, as Change does. Anchors that
// rest on what it changes are queued to be assessed anew. New house rules that
// do not follow those in force are fault.Stale.
func (s *Store) Write(ctx context.Context, who registry.Actor, ch registry.Change) error {
	return s.write(ctx, who, "write", func(w *writer) (registry.Change, error) {
		return ch, w.ask(ctx, "write", func(b *pgx.Batch) { b.Queue(setGroup, w.group.String()) })
	})
}

// decided carries an error of decide out of the transaction untouched.
type decided struct{ error }

func (d decided) Unwrap() error { return d.error }

// write runs one changing transaction inside the actor's group.
func (s *Store) write(ctx context.Context, who registry.Actor, doing string,
	load func(*writer) (registry.Change, error),
) error {
	err := onWire(ctx, s.pool, pgx.TxOptions{}, func(l *wire) error {
		w := &writer{wire: l, group: who.GroupID, who: who.Who, held: make(map[uuid.UUID]bool), made: make(map[uuid.UUID]bool)}
		ch, err := load(w)
		if err != nil {
			return err
		}
		return w.save(ctx, ch)
	})
	if d, ok := err.(decided); ok { //nolint:errorlint // it is ours and never wrapped
		return d.error
	}
	return translate(err, doing)
}

// lockAnchors holds the anchors @ids, which are in order, until the transaction
// ends, so that two changes never wait for each other in a circle. Rows that
// refer to an anchor may still be entered meanwhile.
const lockAnchors = `
SELECT t.id
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.id = k.id FOR NO KEY UPDATE OFFSET 0) AS t`

// lockDue reads and holds the queue entries of the anchors before their facts
// are read: only these may be taken off afterwards.
const lockDue = `
SELECT t.anchor_id
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (SELECT d.anchor_id FROM assessment_due AS d WHERE d.anchor_id = k.id FOR UPDATE OFFSET 0) AS t`

// loadFacts locks the anchors and reads their facts and the house rules, in
// one round trip; each statement sees what was committed before it began.
func (w *writer) loadFacts(ctx context.Context, anchorIDs []uuid.UUID) ([]registry.Facts, houserules.Rules, error) {
	var (
		b      pgx.Batch
		rows   factRows
		rules  rulesRow
		locked []uuid.UUID
		args   = pgx.StrictNamedArgs{"ids": uuidArray(distinct(anchorIDs))}
	)
	b.Queue(setGroup, w.group.String())
	ids(&b, &locked, lockAnchors, args)
	ids(&b, &w.queued, lockDue, args)
	one(&b, &rules, selectRules, nil)
	rows.queue(&b, distinct(anchorIDs))
	if err := w.send(ctx, "load facts", &b); err != nil {
		return nil, houserules.Rules{}, err
	}
	w.hold(locked)
	byAnchor := rows.facts()
	facts := make([]registry.Facts, len(anchorIDs))
	for i, id := range anchorIDs {
		f, ok := byAnchor[id]
		if !ok {
			return nil, houserules.Rules{}, fault.New(fault.NotFound, "anchor %s: there is no such anchor in this group", id)
		}
		facts[i] = *f
	}
	r, err := rules.parse()
	return facts, r, err
}

// hold remembers anchors whose assessment this transaction may write.
func (w *writer) hold(anchorIDs []uuid.UUID) {
	for _, id := range anchorIDs {
		w.held[id] = true
	}
}

// save writes the last change of a transaction.
func (w *writer) save(ctx context.Context, ch registry.Change) error {
	return first(
		func() error { return w.savePart(ctx, ch) },
		func() error { return w.analyse(ctx) },
	)
}

// savePart writes a change with its ledger entries: first what others refer to.
func (w *writer) savePart(ctx context.Context, ch registry.Change) error {
	if empty(&ch) {
		return nil
	}
	if ch.At.IsZero() {
		return fault.New(fault.Internal, "change %q without an instant", ch.What)
	}
	w.what, w.at = ch.What, instant(ch.At)
	for _, step := range []func(context.Context, *registry.Change) error{
		w.wantVacant, w.wantUnheld, w.lookReach, w.saveRules, w.saveLand, w.saveProducts, w.savePlaces, w.saveAnchors, w.saveStatements,
		w.saveRecords, w.saveImport, w.saveProposals, w.saveUndo, w.saveJob, w.hash, w.assess, w.judgeHeld, w.lookReach, w.queueStale,
		w.saveAssessments,
	} {
		if err := step(ctx, &ch); err != nil {
			return err
		}
	}
	return w.enter(ctx)
}

// settle forgets what was written, so that more may follow in the same
// transaction.
func (w *writer) settle() {
	w.entries, w.places, w.beside, w.queued = nil, nil, nil, nil
	clear(w.held)
	clear(w.made)
}

// assess adds to the change the assessments that were not asked for yet.
func (w *writer) assess(ctx context.Context, ch *registry.Change) error {
	if ch.Assess != nil {
		ch.Assessments, ch.Assess = append(ch.Assessments, ch.Assess()...), nil
	}
	if ch.Judge == nil {
		return nil
	}
	left := maps.Clone(w.made)
	for i := range ch.Assessments {
		delete(left, ch.Assessments[i].AnchorID)
	}
	return w.judgeEach(ctx, ch, left, func(f registry.Facts) (registry.Assessment, error) { return ch.Judge(f), nil })
}

// judgeHeld adds to the change the assessments of the anchors that it holds, from
// their facts as they are now.
func (w *writer) judgeHeld(ctx context.Context, ch *registry.Change) error {
	if w.judge == nil {
		return nil
	}
	return w.judgeEach(ctx, ch, w.held, w.judge)
}

// judgeEach adds to the change what judge says of each of the anchors, from its
// facts as they are now.
func (w *writer) judgeEach(ctx context.Context, ch *registry.Change, these map[uuid.UUID]bool,
	judge func(registry.Facts) (registry.Assessment, error),
) error {
	if len(these) == 0 {
		return nil
	}
	inOrder := slices.SortedFunc(maps.Keys(these), func(a, b uuid.UUID) int { return bytes.Compare(a[:], b[:]) })
	var rows factRows
	if err := w.ask(ctx, "load facts", func(b *pgx.Batch) { rows.queue(b, inOrder) }); err != nil {
		return err
	}
	byAnchor := rows.facts()
	for _, id := range inOrder {
		f := byAnchor[id]
		if f == nil {
			continue
		}
		a, err := judge(*f)
		if err != nil {
			return err
		}
		ch.Assessments = append(ch.Assessments, a)
	}
	return nil
}

// empty says that a change has no content.
func empty(ch *registry.Change) bool {
	n := len(ch.Sites) + len(ch.Sectors) + len(ch.Routes) + len(ch.Positions) + len(ch.Stops) + len(ch.StopsOf) +
		len(ch.Assemblies) + len(ch.Persons) + len(ch.Erasures) + len(ch.LegalHolds) + len(ch.Landowners) + len(ch.Parcels) + len(ch.Products) + len(ch.Batches) +
		len(ch.Agreements) + len(ch.Restrictions) + len(ch.ProductVersions) + len(ch.Environments) + len(ch.Events) +
		len(ch.Notices) + len(ch.Anchors) + len(ch.Fittings) + len(ch.Pictures) + len(ch.Sessions) + len(ch.Installations) +
		len(ch.Cures) + len(ch.FirstUses) + len(ch.Inspections) + len(ch.Maintenance) + len(ch.Removals) + len(ch.Markings) +
		len(ch.Settlements) + len(ch.Retractions) + len(ch.ImportRows) +
		len(ch.Proposals) + len(ch.Assessments)
	return n == 0 && ch.Import == nil && ch.ImportUndo == nil && ch.Job == nil && ch.Rules == nil
}

// first runs steps until one fails.
func first(steps ...func() error) error {
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) saveLand(ctx context.Context, ch *registry.Change) error {
	return first(
		func() error { return save(ctx, w, persons, convert(ch.Persons, newPersonRow)) },
		func() error { return save(ctx, w, landowners, convert(ch.Landowners, newLandownerRow)) },
		func() error { return w.saveErasures(ctx, ch) },
		func() error { return save(ctx, w, parcels, convert(ch.Parcels, newParcelRow)) },
		func() error { return save(ctx, w, agreements, convert(ch.Agreements, newAgreementRow)) },
	)
}

func (w *writer) saveProducts(ctx context.Context, ch *registry.Change) error {
	return first(
		func() error { return save(ctx, w, products, convert(ch.Products, newProductRow)) },
		func() error {
			return insert(ctx, w, productVersions, convert(ch.ProductVersions, newProductVersionRow))
		},
		func() error { return save(ctx, w, batches, convert(ch.Batches, newBatchRow)) },
	)
}

func (w *writer) savePlaces(ctx context.Context, ch *registry.Change) error {
	return first(
		func() error { return save(ctx, w, sites, convert(ch.Sites, newSiteRow)) },
		func() error { return save(ctx, w, sectors, convert(ch.Sectors, newSectorRow)) },
		func() error { return save(ctx, w, routes, convert(ch.Routes, newRouteRow)) },
		func() error { return save(ctx, w, positions, convert(ch.Positions, newPositionRow)) },
		func() error { return w.saveStops(ctx, ch) },
		func() error { return save(ctx, w, assemblies, convert(ch.Assemblies, newAssemblyRow)) },
		func() error { return w.saveMembers(ctx, ch.Assemblies) },
	)
}

func (w *writer) saveAnchors(ctx context.Context, ch *registry.Change) error {
	for i := range ch.Anchors {
		if ch.Anchors[i].Version == 0 {
			w.held[ch.Anchors[i].ID], w.made[ch.Anchors[i].ID] = true, true
		}
	}
	return first(
		func() error { return save(ctx, w, anchors, convert(ch.Anchors, newAnchorRow)) },
		func() error { return save(ctx, w, fittings, convert(ch.Fittings, newFittingRow)) },
		func() error { return save(ctx, w, pictures, convert(ch.Pictures, newPictureRow)) },
	)
}

// saveStatements writes what is said of places and anchors.
func (w *writer) saveStatements(ctx context.Context, ch *registry.Change) error {
	return first(
		func() error { return save(ctx, w, restrictions, convert(ch.Restrictions, newRestrictionRow)) },
		func() error { return save(ctx, w, environments, convert(ch.Environments, newEnvironmentRow)) },
		func() error { return save(ctx, w, events, convert(ch.Events, newEventRow)) },
		func() error { return save(ctx, w, notices, convert(ch.Notices, newNoticeRow)) },
		func() error { return w.saveNamed(ctx, ch.Notices) },
	)
}

func (w *writer) saveRecords(ctx context.Context, ch *registry.Change) error {
	return first(
		func() error { return insert(ctx, w, sessions, convert(ch.Sessions, newSessionRow)) },
		func() error { return insert(ctx, w, installations, convert(ch.Installations, newInstallationRow)) },
		func() error { return insert(ctx, w, cures, convert(ch.Cures, newCureRow)) },
		func() error { return insert(ctx, w, firstUses, convert(ch.FirstUses, newFirstUseRow)) },
		func() error { return insert(ctx, w, inspections, convert(ch.Inspections, newInspectionRow)) },
		func() error { return insert(ctx, w, maintenance, convert(ch.Maintenance, newMaintenanceRow)) },
		func() error { return insert(ctx, w, removals, convert(ch.Removals, newRemovalRow)) },
		func() error { return insert(ctx, w, markings, convert(ch.Markings, newMarkingRow)) },
		func() error { return insert(ctx, w, settlements, convert(ch.Settlements, newSettlementRow)) },
		func() error { return insert(ctx, w, retractions, convert(ch.Retractions, newRetractionRow)) },
	)
}
