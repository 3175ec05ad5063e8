package postgres_test

import (
	"context"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/houserules"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// asked is one statement that the store sent.
type asked struct {
	sql  string
	args []any
}

// recorder remembers what goes through a pool.
type recorder struct {
	mu   sync.Mutex
	sent []asked
}

func (r *recorder) add(sql string, args []any) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if len(args) == 1 {
		if rewriter, ok := args[0].(pgx.QueryRewriter); ok {
			var err error
			if sql, args, err = rewriter.RewriteQuery(context.Background(), nil, sql, args[1:]); err != nil {
				panic(err) // the store rewrote it before
			}
		}
	}
	r.sent = append(r.sent, asked{sql, args})
}

func (r *recorder) TraceQueryStart(ctx context.Context, _ *pgx.Conn, data pgx.TraceQueryStartData) context.Context {
	r.add(data.SQL, data.Args)
	return ctx
}

func (r *recorder) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

func (r *recorder) TraceBatchStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceBatchStartData) context.Context {
	return ctx
}

func (r *recorder) TraceBatchQuery(_ context.Context, _ *pgx.Conn, data pgx.TraceBatchQueryData) {
	r.add(data.SQL, data.Args)
}

func (r *recorder) TraceBatchEnd(context.Context, *pgx.Conn, pgx.TraceBatchEndData) {}

// recorded is a store over the register whose statements are remembered.
func (r *register) recorded(t *testing.T) (*postgres.Store, *recorder) {
	t.Helper()
	config, err := pgxpool.ParseConfig(r.db.AppURL())
	if err != nil {
		t.Fatal(err)
	}
	rec := &recorder{}
	config.ConnConfig.Tracer = rec
	pool, err := pgxpool.NewWithConfig(t.Context(), config)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(pool.Close)
	return postgres.New(pool), rec
}

// filled is a register of some thousand anchors that nobody analysed: the
// servers of tests do not do it by themselves.
func filled(t *testing.T, n int) (*register, *scene, []uuid.UUID) {
	t.Helper()
	r, s := newRegister(t), newScene()
	ids := r.fill(t, s, n)
	if analysed := r.strings(t, `SELECT relname FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace AND reltuples > 0`); len(analysed) > 0 {
		t.Fatalf("tables %v are analysed: the test shows nothing", analysed)
	}
	return r, s, ids
}

// fill enters a scene and n anchors more, a hundred of a site and of a list,
// the sites a degree apart, and returns the ids, in order.
func (r *register) fill(t *testing.T, s *scene, n int) []uuid.UUID {
	t.Helper()
	ch := s.change()
	ids := []uuid.UUID{s.anchor.ID}
	var site registry.Site
	var route registry.Route
	for i := range n {
		if i%100 == 0 {
			r.enter(t, ch)
			ch = registry.Change{What: "test"}
			site = sample.Site(func(at *registry.Site) { at.Name = siteName(i) })
			route = sample.Route(site)
			ch.Sites, ch.Routes = append(ch.Sites, site), append(ch.Routes, route)
			intake := s.intake
			intake.ID = sample.ID()
			ch.Import = &intake
		}
		p := sample.Position(site, func(p *registry.Position) {
			p.Label, p.Lat, p.Lon = listRow(i).Label, sample.Of(50+float64(i%100)/100), sample.Of(float64(i/100))
		})
		a := sample.Anchor(p)
		ch.Positions, ch.Anchors = append(ch.Positions, p), append(ch.Anchors, a)
		ch.Stops = append(ch.Stops, registry.Stop{RouteID: route.ID, PositionID: p.ID, Rank: i})
		ch.Fittings = append(ch.Fittings, sample.Fitting(a))
		session := sample.GluingSession(site)
		ch.Sessions = append(ch.Sessions, session)
		ch.Installations = append(ch.Installations, sample.Installation(a, func(i *registry.Installation) { i.SessionID = &session.ID }))
		ch.Cures = append(ch.Cures, sample.Cure(a))
		ch.Inspections = append(ch.Inspections, sample.Inspection(a))
		ch.Assessments = append(ch.Assessments, sample.Assessment(a))
		ch.Environments = append(ch.Environments, sample.Environment(site, func(e *registry.Environment) {
			e.Place = registry.Place{Kind: registry.AtPosition, ID: p.ID}
		}))
		row := s.row
		row.ImportID, row.Line, row.Key, row.AnchorID = ch.Import.ID, i, listRow(i).Key(), a.ID
		ch.ImportRows = append(ch.ImportRows, row)
		if i%2 == 0 { // with one of each the ledger would be analysed
			proposal := s.proposal
			proposal.ID, proposal.ImportID, proposal.Line = sample.ID(), ch.Import.ID, i
			proposal.SiteID, proposal.PositionID, proposal.AnchorID = site.ID, p.ID, a.ID
			ch.Proposals = append(ch.Proposals, proposal)
		}
		ids = append(ids, a.ID)
	}
	r.enter(t, ch)
	return ids
}

// siteName is the name of the site that fill puts an anchor at.
func siteName(i int) string { return "Filled Crag " + strconv.Itoa(i/100) }

// listRow is the row of a list that fill has an anchor from.
func listRow(i int) *registry.ListRow {
	return &registry.ListRow{Site: siteName(i), Label: "B" + strconv.Itoa(i)}
}

// byGroupOnly is an index condition on nothing but the group.
var byGroupOnly = regexp.MustCompile(`Index Cond: \(group_id = [^=<>]*\)$`)

// wholeGroup are the indexes that are read through on purpose: those that hold
// few rows of a group, and those of the land report's records (r).
var wholeGroup = regexp.MustCompile(`using (assessment_suspect_idx|assessment_due_pkey|house_rules_pkey|restriction_pkey|notice_by_criterion_idx) on|on [a-z]+ r(_\d)?  `)

// Right after a large intake nobody has analysed the tables. The store must
// then still look rows up by whole keys, whether a plan is made for the values
// at hand or for any. (On a table of a few rows any index will do.)
func TestPlansWithoutStatistics(t *testing.T) {
	t.Parallel()
	r, s, anchorIDs := filled(t, 3000)
	r.checkPlans(t, r.statements(t, s, anchorIDs))
}

// statements are those that the store sends where a register is filled, with
// what they were asked.
func (r *register) statements(t *testing.T, s *scene, anchorIDs []uuid.UUID) []asked {
	t.Helper()
	store, rec := r.recorded(t)
	ctx, group := t.Context(), r.group.ID
	page := registry.Page{Limit: 100, After: anchorIDs[len(anchorIDs)/3]}
	for _, f := range []registry.AnchorFilter{
		{},
		{SiteID: &s.site.ID},
		{RouteID: &s.route.ID},
		{SectorID: &s.sector.ID},
		{BatchID: &s.batch.ID},
		{Standing: registry.StandingSuspect},
		{Standing: registry.StandingWatch, DueState: registry.Overdue, DueBefore: sample.Day, Metal: "1.4404", Text: "b"},
		{Box: &registry.Box{West: -3, South: 53, East: -2, North: 55}, RouteID: &s.route.ID, BatchID: &s.batch.ID},
	} {
		_, err := store.Anchors(ctx, group, f, page)
		check(t, err)
	}
	_, err := store.AnchorStory(ctx, group, s.anchor.ID)
	check(t, err)
	_, err = store.GluingSession(ctx, group, s.session.ID)
	check(t, err)
	_, err = store.GluingSessions(ctx, group, &s.site.ID, page)
	check(t, err)
	_, err = store.Positions(ctx, group, &s.site.ID, nil, page)
	check(t, err)
	_, err = store.Positions(ctx, group, nil, &s.route.ID, page)
	check(t, err)
	_, err = store.SuspectLines(ctx, group)
	check(t, err)
	_, err = store.SuspectRanks(ctx, group)
	check(t, err)
	_, err = store.Lines(ctx, group, anchorIDs[500:525])
	check(t, err)
	_, err = store.EnvironmentsAt(ctx, group, s.position.ID)
	check(t, err)
	_, err = store.RestrictionsAt(ctx, group, s.position.ID)
	check(t, err)
	_, err = store.Stale(ctx, group, 1, sample.Day, 500)
	check(t, err)
	_, err = store.LandRecords(ctx, group, sample.Day, sample.Day)
	check(t, err)
	check(t, store.EachFacts(ctx, group, func(registry.ReportLine, registry.Facts) error { return nil }))
	check(t, store.EachAsking(ctx, group, func(registry.ReportLine, registry.Facts) error { return nil }))
	for _, ask := range []registry.ListAsk{{Own: true}, {Own: true, ImportID: &s.intake.ID}} {
		check(t, store.EachListed(ctx, group, ask, func(registry.PastList) error { return nil }, func(registry.ListEntry) error { return nil }))
	}
	check(t, store.Change(ctx, r.who, anchorIDs[:600], func(f []registry.Facts, _ houserules.Rules) (registry.Change, error) {
		ch := registry.Change{What: "refresh", At: sample.At}
		for i := range f {
			ch.Assessments = append(ch.Assessments, sample.Assessment(f[i].Anchor, func(a *registry.Assessment) { a.Findings = nil }))
		}
		return ch, nil
	}))
	s.site.Version, s.position.Version, s.environment.Version = 1, 1, 1
	check(t, store.Write(ctx, r.who, registry.Change{
		What: "test", At: sample.At, Sites: []registry.Site{s.site}, Positions: []registry.Position{s.position},
		ProductVersions: []registry.ProductVersion{sample.ProductVersion(s.adhesive)}, Batches: []registry.Batch{stored(s.batch, func(b *registry.Batch) *int { return &b.Version })},
		StopsOf: []uuid.UUID{s.position.ID}, Environments: []registry.Environment{s.environment},
	}))
	return rec.sent
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// planned are the statements that have a plan worth looking at.
var planned = regexp.MustCompile(`^\s*(SELECT|WITH|UPDATE|DELETE)\b`)

// checkPlans looks at the plan of every statement, made as the store makes it:
// after what it sets for its transaction.
func (r *register) checkPlans(t *testing.T, sent []asked) {
	t.Helper()
	setting := slices.IndexFunc(sent, func(q asked) bool { return strings.Contains(q.sql, "set_config") })
	seen := make(map[string]bool)
	for _, q := range sent {
		if seen[q.sql] || !planned.MatchString(q.sql) || strings.Contains(q.sql, "set_config") {
			continue
		}
		seen[q.sql] = true
		for _, generic := range []bool{false, true} {
			plan := r.explain(t, sent[setting], q, generic)
			if line := flaw(plan); line != "" {
				t.Errorf("generic plan %v: %s\nof %s\n%s", generic, line, q.sql, plan)
			}
		}
	}
	if len(seen) < 50 {
		t.Errorf("only %d statements seen", len(seen))
	}
}

// flaw returns the first line of a plan that reads more than it should: a table
// read through, a join that reads both sides whole, an index by the group alone.
func flaw(plan string) string {
	before := ""
	for line := range strings.Lines(plan) {
		line = strings.TrimRight(line, "\n")
		whole := strings.Contains(line, "Seq Scan") || strings.Contains(line, "Hash Join") || strings.Contains(line, "Merge Join")
		if whole || byGroupOnly.MatchString(line) && !wholeGroup.MatchString(before) {
			return strings.TrimSpace(line)
		}
		before = line
	}
	return ""
}

// explain returns the plan of a statement, for its arguments or for any.
func (r *register) explain(t *testing.T, setting, q asked, generic bool) string {
	t.Helper()
	var plan []string
	r.as(t, uuid.Nil, func(ctx context.Context, tx pgx.Tx) {
		_, err := tx.Exec(ctx, setting.sql, setting.args...)
		check(t, err)
		ask, args := "EXPLAIN "+q.sql, q.args
		if generic {
			ask, args = prepare(ctx, t, tx, q), []any{pgx.QueryExecModeSimpleProtocol}
		}
		rows, err := tx.Query(ctx, ask, args...)
		check(t, err)
		plan, err = pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			t.Fatalf("%s\n%v", q.sql, err)
		}
	})
	return strings.Join(plan, "\n")
}

// prepare prepares a statement and returns the one that explains its plan for
// any arguments; those it is given do not matter.
func prepare(ctx context.Context, t *testing.T, tx pgx.Tx, q asked) string {
	t.Helper()
	name := "plan_" + strings.ReplaceAll(sample.ID().String(), "-", "_")
	_, err := tx.Conn().Prepare(ctx, name, q.sql)
	check(t, err)
	_, err = tx.Exec(ctx, "SET LOCAL plan_cache_mode = force_generic_plan")
	check(t, err)
	if len(q.args) == 0 {
		return "EXPLAIN EXECUTE " + name
	}
	return "EXPLAIN EXECUTE " + name + " (" + strings.Repeat("NULL, ", len(q.args)-1) + "NULL)"
}
