package postgres

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type noticeRow struct {
	inventoryKey
	Title     string        `json:"title"`
	Words     string        `json:"words"`
	IssuedOn  calendar.Date `json:"issued_on"`
	InspectBy calendar.Date `json:"inspect_by"`
	criterionRow
	EndedOn     calendar.Date `json:"ended_on"`
	EndedReason string        `json:"ended_reason"`
}

// criterionRow is what a notice goes by; by_criterion says whether anything is
// given.
type criterionRow struct {
	ProductIDs []uuid.UUID   `json:"product_ids"`
	BatchIDs   []uuid.UUID   `json:"batch_ids"`
	SetterIDs  []uuid.UUID   `json:"setter_ids"`
	SiteIDs    []uuid.UUID   `json:"site_ids"`
	Rocks      []string      `json:"rocks"`
	SetFrom    calendar.Date `json:"set_from"`
	SetTo      calendar.Date `json:"set_to"`
}

func newNoticeRow(n registry.Notice) noticeRow {
	c := &n.Criterion
	return noticeRow{
		inventoryKey{n.ID, n.Version},
		n.Title, n.Words, n.IssuedOn, n.InspectBy,
		criterionRow{given(c.ProductIDs), given(c.BatchIDs), given(c.SetterIDs), given(c.SiteIDs), texts(c.Rocks), c.From, c.To},
		n.EndedOn, n.EndedReason,
	}
}

// given is a list as it is stored in a column that is never NULL.
func given(list []uuid.UUID) []uuid.UUID { return append([]uuid.UUID{}, list...) }

// given says whether the notice goes by anything but the anchors it names.
func (r criterionRow) given() bool {
	lists := len(r.ProductIDs) + len(r.BatchIDs) + len(r.SetterIDs) + len(r.SiteIDs) + len(r.Rocks)
	return lists > 0 || !r.SetFrom.IsZero() || !r.SetTo.IsZero()
}

func (r criterionRow) criterion() registry.NoticeCriterion {
	return registry.NoticeCriterion{
		ProductIDs: idsOrNone(r.ProductIDs), BatchIDs: idsOrNone(r.BatchIDs), SetterIDs: idsOrNone(r.SetterIDs), SiteIDs: idsOrNone(r.SiteIDs),
		Rocks: fromTexts[registry.RockClass](r.Rocks), From: r.SetFrom, To: r.SetTo,
	}
}

// idsOrNone is the way back: nil for none.
func idsOrNone(list []uuid.UUID) []uuid.UUID {
	if len(list) == 0 {
		return nil
	}
	return list
}

func (r noticeRow) noun() registry.Notice {
	return registry.Notice{
		ID: r.ID, Version: r.Version, Title: r.Title, Words: r.Words, IssuedOn: r.IssuedOn, InspectBy: r.InspectBy,
		Criterion: r.criterion(), EndedOn: r.EndedOn, EndedReason: r.EndedReason,
	}
}

var notices = newTable[noticeRow]("notice")

// namedRow is an anchor that a notice names.
type namedRow struct {
	NoticeID uuid.UUID `json:"notice_id"`
	AnchorID uuid.UUID `json:"anchor_id"`
}

func (r namedRow) rowID() uuid.UUID { return r.NoticeID }

var named = newTable[namedRow]("notice_anchor")

// noticeReadRow is a notice with the anchors it names.
type noticeReadRow struct {
	noticeRow
	AnchorIDs []uuid.UUID `json:"anchor_ids"`
}

func (r noticeReadRow) noun() registry.Notice {
	n := r.noticeRow.noun()
	n.AnchorIDs = r.AnchorIDs
	return n
}

// selectNotices reads notices up to the WHERE; the primary key of
// notice_anchor serves the anchors.
var selectNotices = "\nSELECT " + selectList[noticeRow]("t") + `,
  ARRAY(SELECT na.anchor_id FROM notice_anchor AS na WHERE na.notice_id = t.id ORDER BY na.anchor_id) AS anchor_ids
FROM notice AS t`

// Notices lists notices with the anchors they name, in the order of ids.
func (s *Store) Notices(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Notice, error) {
	return list(ctx, s, group, pageOf(page).query("list notices", selectNotices), noticeReadRow.noun)
}

// Notice returns one notice with the anchors it names, or fault.NotFound.
func (s *Store) Notice(ctx context.Context, group, id uuid.UUID) (registry.Notice, error) {
	return single(ctx, s, group, byID("read notice", selectNotices, id), noticeReadRow.noun)
}

// NoticeReach lists the anchors in the rock that a notice is or would be about,
// in the order of ids, and how far each has come; of a notice that was closed,
// or never was stored, nobody has come anywhere. It holds the criterion against
// every anchor of the group, or of the sites that it names.
func (s *Store) NoticeReach(ctx context.Context, group uuid.UUID, n registry.Notice) (registry.NoticeReach, error) {
	var rows reachRows
	doing := "find what notice " + n.ID.String() + " is about"
	err := s.read(ctx, group, doing, func(b *pgx.Batch) { rows.queue(b, &n.Criterion); rows.queueNamed(b, n.AnchorIDs) })
	if err != nil {
		return registry.NoticeReach{}, err
	}
	reach := registry.NoticeReach{Living: rows.living[0].Anchors, Anchors: rows.about(&n)}
	if n.ID == uuid.Nil || !n.EndedOn.IsZero() {
		return reach, nil
	}
	var come []progressRow
	about := convert(reach.Anchors, func(a registry.NoticeAnchor) uuid.UUID { return a.AnchorID })
	err = s.read(ctx, group, "see how far notice "+n.ID.String()+" is", func(b *pgx.Batch) {
		all(b, &come, selectProgress, pgx.StrictNamedArgs{"ids": about, "notice_id": n.ID.String()})
	})
	for i := range come {
		reach.Anchors[i].Progress = come[i].progress()
	}
	return reach, err
}

// about lists the anchors in the rock that a notice is about.
func (r *reachRows) about(n *registry.Notice) []registry.NoticeAnchor {
	var list []registry.NoticeAnchor
	surely := make(map[uuid.UUID]bool)
	named := make(map[uuid.UUID]bool, len(r.named))
	for _, id := range r.named {
		named[id] = true
	}
	if n.Criterion.Given() {
		for _, a := range r.reach(n.Criterion) {
			if a.Hit == registry.HitSure && !a.removed {
				surely[a.AnchorID] = true
			}
			if !a.removed && (a.Hit == registry.HitSure || !named[a.AnchorID]) {
				list = append(list, a.NoticeAnchor)
			}
		}
	}
	for _, id := range r.named {
		if !surely[id] {
			list = append(list, registry.NoticeAnchor{AnchorID: id, Hit: registry.HitNamed})
		}
	}
	slices.SortFunc(list, func(a, b registry.NoticeAnchor) int { return slices.Compare(a.AnchorID[:], b.AnchorID[:]) })
	return list
}

// progressRow is how an anchor stands to a notice, by its assessment as stored.
type progressRow struct {
	Ord      int   `json:"ord"`
	Standing word  `json:"standing"`
	Due      bool  `json:"due"`
	Settled  *bool `json:"settled"` // nil: nothing is held against it
}

// selectProgress is served by the primary keys.
const selectProgress = `
SELECT k.ord::int AS ord, x.standing, d.due, f.settled
FROM unnest(@ids::uuid[]) WITH ORDINALITY AS k (id, ord)
LEFT JOIN LATERAL (SELECT x.standing FROM assessment AS x WHERE x.anchor_id = k.id OFFSET 0) AS x ON true
CROSS JOIN LATERAL (SELECT EXISTS (SELECT FROM assessment_due AS d WHERE d.anchor_id = k.id OFFSET 0) AS due OFFSET 0) AS d
CROSS JOIN LATERAL (
  SELECT bool_and(f.settled_by IS NOT NULL) AS settled
  FROM assessment_finding AS f
  WHERE f.anchor_id = k.id
    AND f.rule IN ('notice-outstanding', 'notice-hit-sure', 'notice-hit-possible')
    AND f.values ->> 'notice_id' = @notice_id
  OFFSET 0) AS f
ORDER BY k.ord`

func (r *progressRow) progress() registry.NoticeProgress {
	switch {
	case r.Due || r.Standing == "":
		return registry.ProgressLeft
	case registry.Standing(r.Standing) == registry.StandingOutOfUse:
		return registry.ProgressOutOfUse
	case r.Settled == nil:
		return registry.ProgressInspected
	case *r.Settled:
		return registry.ProgressSettled
	}
	return registry.ProgressLeft
}

// ReportLines returns the report lines of anchors, in the order of ids; one that
// was never assessed is left out.
func (s *Store) ReportLines(ctx context.Context, group uuid.UUID, list []uuid.UUID) ([]registry.ReportLine, error) {
	return s.reportLines(ctx, group, "read lines of anchors", theseIDs, pgx.StrictNamedArgs{"ids": distinct(list)})
}

// BatchTrace returns where a batch went, or fault.NotFound: the anchors surely
// set with it, removed ones too, those that may have been, and the sessions that
// glued with it. A correction counts in place of what it replaces.
func (s *Store) BatchTrace(ctx context.Context, group, id uuid.UUID) (registry.BatchTrace, error) {
	t := registry.BatchTrace{}
	var err error
	if t.Batch, err = s.Batch(ctx, group, id); err != nil {
		return t, err
	}
	var rows reachRows
	c := registry.NoticeCriterion{BatchIDs: []uuid.UUID{id}}
	if err := s.read(ctx, group, "trace batch "+id.String(), func(b *pgx.Batch) { rows.queue(b, &c) }); err != nil {
		return t, err
	}
	in := make(map[uuid.UUID]bool)
	sessionOf := make(map[uuid.UUID][]uuid.UUID)
	var sure []uuid.UUID
	for _, a := range rows.reach(c) {
		if a.Hit != registry.HitSure {
			if !a.removed {
				t.Possible = append(t.Possible, a.AnchorID)
			}
			continue
		}
		sure = append(sure, a.AnchorID)
		sessionOf[a.AnchorID] = a.sessions
		for _, s := range a.sessions {
			in[s] = true
		}
	}
	t.Sessions = rows.gluedWith(id, in)
	lines, err := s.ReportLines(ctx, group, sure)
	t.Lines = convert(lines, func(l registry.ReportLine) registry.TraceLine {
		return registry.TraceLine{Line: l, SessionIDs: sessionOf[l.Assessment.AnchorID]}
	})
	return t, err
}

// gluedWith lists the sessions that stand and glued with a batch, and those
// among the given, in the order of ids.
func (r *reachRows) gluedWith(batch uuid.UUID, in map[uuid.UUID]bool) []registry.GluingSession {
	replaced := make(map[uuid.UUID]bool)
	for i := range r.sessions {
		if by := r.sessions[i].Replaces; by != nil {
			replaced[*by] = true
		}
	}
	var out []registry.GluingSession
	for i := range r.sessions {
		s := &r.sessions[i]
		if in[s.ID] || s.BatchID != nil && *s.BatchID == batch && !replaced[s.ID] {
			out = append(out, s.noun())
		}
	}
	return out
}

// lookReach remembers the anchors that the notices which a change speaks of are
// about as things stand: those that it brings or changes, and those whose
// criterion names a batch or a product that it changes. It is asked before the
// change is written, and after it.
func (w *writer) lookReach(ctx context.Context, ch *registry.Change) error {
	changed := changedBy(ch)
	if len(changed) == 0 {
		return nil
	}
	var criteria criteriaRows
	if err := w.ask(ctx, "read the criteria of notices", criteria.queue); err != nil {
		return err
	}
	bearing := slices.DeleteFunc(criteria.notices, func(n noticeRow) bool { return !criteria.bears(&n, changed) })
	if len(bearing) == 0 {
		return nil
	}
	var rows reachRows
	if err := w.ask(ctx, "find what notices are about", func(b *pgx.Batch) { rows.queue(b, &registry.NoticeCriterion{}) }); err != nil {
		return err
	}
	for i := range bearing {
		for _, a := range rows.reach(bearing[i].criterion()) {
			if !a.removed {
				w.beside = append(w.beside, a.AnchorID)
			}
		}
	}
	return nil
}

// changedBy are the notices, new ones too, and the stored batches and products
// that a change writes.
func changedBy(ch *registry.Change) map[uuid.UUID]bool {
	changed := make(map[uuid.UUID]bool)
	for i := range ch.Notices {
		changed[ch.Notices[i].ID] = true
	}
	for i := range ch.Batches {
		if ch.Batches[i].Version > 0 {
			changed[ch.Batches[i].ID] = true
		}
	}
	for i := range ch.Products {
		if ch.Products[i].Version > 0 {
			changed[ch.Products[i].ID] = true
		}
	}
	return changed
}

// bears says whether a notice, or what its criterion names, is among the changed.
func (r *criteriaRows) bears(n *noticeRow, changed map[uuid.UUID]bool) bool {
	hit := func(id uuid.UUID) bool { return changed[id] }
	if changed[n.ID] || slices.ContainsFunc(n.ProductIDs, hit) || slices.ContainsFunc(n.BatchIDs, hit) {
		return true
	}
	return slices.ContainsFunc(r.batches, func(b batchRow) bool {
		return b.ProductID != nil && changed[*b.ProductID] && slices.Contains(n.BatchIDs, b.ID)
	})
}
