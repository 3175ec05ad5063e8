package app_test

import (
	"slices"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// recalled is a house with an adhesive, two batches of it and a notice about the
// first, issued on the first day.
type recalled struct {
	*house
	resin        registry.Product
	batch, other registry.Batch
	notice       registry.Notice
}

func newRecalled(t *testing.T) *recalled {
	t.Helper()
	r := &recalled{house: newHouse(t)}
	r.enter(t, smallList)
	r.resin = add(t, r.house, registry.Product{Kind: registry.Adhesive, Name: "Invented resin"}, r.AddProduct)
	r.batch = add(t, r.house, registry.Batch{ProductID: &r.resin.ID, Text: "L1709-A"}, r.AddBatch)
	r.other = add(t, r.house, registry.Batch{ProductID: &r.resin.ID, Text: "L1710"}, r.AddBatch)
	r.notice = add(t, r.house, registry.Notice{
		Title: "Invented recall", IssuedOn: firstDay, InspectBy: firstDay + 30,
		Criterion: registry.NoticeCriterion{BatchIDs: []uuid.UUID{r.batch.ID}},
	}, r.AddNotice)
	return r
}

// set records that an anchor was set with a batch, nil for one that is not known.
func (r *recalled) set(t *testing.T, anchor uuid.UUID, batch *uuid.UUID) registry.Installation {
	t.Helper()
	i := registry.Installation{
		Record: registry.Record{ID: uuid.Must(uuid.NewV7()), AnchorID: anchor, DoneOn: calendar.Exactly(firstDay - 400)},
		Form:   registry.SingleShank, AdhesiveID: &r.resin.ID, BatchID: batch,
	}
	if _, _, err := r.RecordInstallation(t.Context(), r.who, i); err != nil {
		t.Fatal(err)
	}
	return i
}

// held is the rule of the notice that is held against an anchor; blank: none.
func (r *recalled) held(t *testing.T, anchor uuid.UUID) string {
	t.Helper()
	story, err := r.AnchorStory(t.Context(), r.who, anchor)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range story.Assessment.Findings {
		if f.Values.Text("notice_id") == r.notice.ID.String() && f.SettledBy == nil {
			return f.Rule
		}
	}
	return ""
}

// What is recorded after a recall was issued is caught, and so is what was
// recorded wrongly and is corrected.
func TestRecallCatchesLateRecords(t *testing.T) {
	t.Parallel()
	r := newRecalled(t)
	anchor := r.anchor(t, "B1").ID
	first := r.set(t, anchor, &r.other.ID)
	if got := r.held(t, anchor); got != "" {
		t.Errorf("set with another batch: %q, want nothing held", got)
	}
	second := first
	second.ID, second.Replaces, second.BatchID = uuid.Must(uuid.NewV7()), &first.ID, nil
	if _, _, err := r.RecordInstallation(t.Context(), r.who, second); err != nil {
		t.Fatal(err)
	}
	if got := r.held(t, anchor); got != "notice-hit-possible" {
		t.Errorf("batch not known after all: %q, want a possible hit", got)
	}
	third := first
	third.ID, third.Replaces, third.BatchID = uuid.Must(uuid.NewV7()), &second.ID, &r.batch.ID
	if _, _, err := r.RecordInstallation(t.Context(), r.who, third); err != nil {
		t.Fatal(err)
	}
	if got := r.held(t, anchor); got != "notice-hit-sure" {
		t.Errorf("the batch after all: %q, want a sure hit", got)
	}
	progress, err := r.NoticeProgress(t.Context(), r.who, r.notice.ID, registry.Page{})
	if err != nil || progress.ByHit[registry.HitSure] != 1 || progress.ByProgress[registry.ProgressLeft] == 0 {
		t.Errorf("progress %+v, %v; want one sure hit, left", progress, err)
	}
}

// A list that comes in after a recall was issued is held against it too, new
// anchors, new batches and all, and at once.
func TestRecallCatchesLateLists(t *testing.T) {
	t.Parallel()
	r := newRecalled(t)
	r.enter(t, "Crag,Route,Bolt,Type,Fitted,Resin,Batch\nInvented Edge,Late Corner,L1,glue-in,2019,Invented resin,l 1709-a\n"+
		"Invented Edge,Late Corner,L2,glue-in,2019,Invented resin,L1710\n")
	sure, not := r.anchor(t, "L1").ID, r.anchor(t, "L2").ID
	suspect, err := r.store.Anchors(t.Context(), r.who.GroupID, registry.AnchorFilter{Standing: registry.StandingSuspect}, registry.Page{})
	if err != nil {
		t.Fatal(err)
	}
	found := map[uuid.UUID]bool{}
	for _, l := range suspect {
		found[l.Anchor.ID] = true
	}
	if !found[sure] || found[not] {
		t.Errorf("suspect after the list came: %v, want %v and not %v", found, sure, not)
	}
}

// A batch that is renamed, or turns out to be of another product, takes its
// anchors with it.
func TestRecallFollowsItsBatch(t *testing.T) {
	t.Parallel()
	r := newRecalled(t)
	anchor := r.anchor(t, "B1").ID
	r.set(t, anchor, &r.other.ID)
	_, err := r.ChangeBatch(t.Context(), r.who, r.batch.ID, 1, func(b *registry.Batch) error { b.Text, b.ProductID = "L 1710", nil; return nil })
	if err != nil {
		t.Fatal(err)
	}
	if got := r.held(t, anchor); got != "notice-hit-possible" {
		t.Errorf("the recalled batch is written like its own: %q, want a possible hit", got)
	}
}

func TestNoticeIsClosed(t *testing.T) {
	t.Parallel()
	r := newRecalled(t)
	ctx := t.Context()
	anchor := r.anchor(t, "B1").ID
	r.set(t, anchor, &r.batch.ID)
	end := func(reason string) func(*registry.Notice) error {
		return func(n *registry.Notice) error { n.EndedOn, n.EndedReason = firstDay, reason; return nil }
	}
	_, err := r.ChangeNotice(ctx, r.who, r.notice.ID, 1, end(""))
	violated(t, "closed while anchors are left", err, "ended_reason", fault.Required)
	if _, err := r.ChangeNotice(ctx, r.who, r.notice.ID, 1, end("the maker took it back")); err != nil {
		t.Fatalf("close with a reason: %v", err)
	}
	if got := r.held(t, anchor); got != "" {
		t.Errorf("after it was closed: %q, want nothing held", got)
	}
	progress, err := r.NoticeProgress(ctx, r.who, r.notice.ID, registry.Page{})
	if err != nil || len(progress.ByProgress) != 0 {
		t.Errorf("progress %+v, %v; want none of a notice that was closed", progress.ByProgress, err)
	}
}

func TestNoticeThatIsDoneClosesWithoutAReason(t *testing.T) {
	t.Parallel()
	r := newRecalled(t)
	anchor := r.anchor(t, "B1").ID
	r.set(t, anchor, &r.batch.ID)
	narrow := func(n *registry.Notice) error {
		n.Criterion.From, n.Criterion.To = firstDay-400, firstDay-400
		return nil
	}
	if _, err := r.ChangeNotice(t.Context(), r.who, r.notice.ID, 1, narrow); err != nil {
		t.Fatal(err)
	}
	r.turnTo(firstDay + 1)
	for _, label := range []string{"B1", "B2", "B3"} {
		if _, _, err := r.RecordInspection(t.Context(), r.who, inspected(r.anchor(t, label).ID, firstDay+1, func(*registry.Inspection) {})); err != nil {
			t.Fatal(err)
		}
	}
	progress, err := r.NoticeProgress(t.Context(), r.who, r.notice.ID, registry.Page{})
	if err != nil || progress.ByProgress[registry.ProgressInspected] == 0 || progress.ByProgress[registry.ProgressLeft] != 0 {
		t.Errorf("progress %+v, %v; want all inspected", progress.ByProgress, err)
	}
	end := func(n *registry.Notice) error { n.EndedOn = firstDay + 1; return nil }
	if _, err := r.ChangeNotice(t.Context(), r.who, r.notice.ID, 2, end); err != nil {
		t.Errorf("close what is done: %v", err)
	}
}

func TestPreviewIssuesNothing(t *testing.T) {
	t.Parallel()
	r := newRecalled(t)
	anchor := r.anchor(t, "B1").ID
	r.set(t, anchor, &r.other.ID)
	n := registry.Notice{
		Title: "Invented warning", IssuedOn: firstDay, InspectBy: firstDay + 5,
		Criterion: registry.NoticeCriterion{BatchIDs: []uuid.UUID{r.other.ID}},
	}
	preview, err := r.PreviewNotice(t.Context(), r.who, n)
	if err != nil || preview.ByHit[registry.HitSure] != 1 || preview.Lines[0].AnchorID != anchor || preview.SharePct() <= 0 {
		t.Errorf("preview %+v, %v; want the anchor set with it first", preview, err)
	}
	if list, err := r.Notices(t.Context(), r.who, registry.Page{}); err != nil || len(list) != 1 {
		t.Errorf("%d notices after a preview, %v; want the one there was", len(list), err)
	}
	n.Criterion.BatchIDs = append(n.Criterion.BatchIDs, uuid.New())
	_, err = r.PreviewNotice(t.Context(), r.who, n)
	violated(t, "a batch that is not there", err, "criterion.batch_ids", fault.NoSuchReference)
	if _, err := r.PreviewNotice(t.Context(), r.as(registry.RoleRecorder), n); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a recorder previews: %v, want forbidden", err)
	}
}

func TestTraceBatch(t *testing.T) {
	t.Parallel()
	r := newRecalled(t)
	sure, perhaps := r.anchor(t, "B1").ID, r.anchor(t, "B2").ID
	r.set(t, sure, &r.batch.ID)
	r.set(t, perhaps, nil)
	trace, err := r.TraceBatch(t.Context(), r.who, r.batch.ID)
	if err != nil || len(trace.Lines) != 1 || trace.Lines[0].Line.Assessment.AnchorID != sure || trace.Product != r.resin.Name {
		t.Fatalf("trace %+v, %v; want the anchor set with it", trace, err)
	}
	if len(trace.Possible) == 0 {
		t.Error("no anchor may have been set with it, want the one whose batch is not known")
	}
	if n := len(trace.MayBe); n != len(trace.Possible) || !slices.ContainsFunc(trace.MayBe, func(l registry.ReportLine) bool {
		return l.Assessment.AnchorID == perhaps && l.Place.Label == "B2"
	}) {
		t.Errorf("%d anchors named that may have been, want all %d with their places", n, len(trace.Possible))
	}
	if _, err := r.TraceBatch(t.Context(), r.who, uuid.New()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("a batch that is not there: %v, want not found", err)
	}
}
