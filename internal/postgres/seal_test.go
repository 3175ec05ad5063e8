package postgres_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// seal closes the group's ledger, once no transaction of another test is at work
// that is older than its entries.
func (r *register) seal(t *testing.T) []registry.Seal {
	t.Helper()
	for at := 1; at > 0; {
		at = r.count(t, `
SELECT count(*)
FROM (SELECT pg_sleep(0.005)) AS wait
CROSS JOIN ledger AS l
WHERE l.era = (SELECT max(era) FROM ledger_era)
  AND l.txid >= pg_snapshot_xmin(pg_current_snapshot())`)
	}
	made, err := r.store.Seal(t.Context(), r.group.ID, sample.At)
	if err != nil {
		t.Fatal(err)
	}
	return made
}

func (r *register) verify(t *testing.T, hash string) registry.LedgerCheck {
	t.Helper()
	got, err := r.store.VerifyLedger(t.Context(), r.group.ID, hash)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// sealedScene is a register with a scene that was entered, changed and sealed.
func sealedScene(t *testing.T) (*register, *scene) {
	t.Helper()
	r := newRegister(t)
	return r, r.enterSealed(t)
}

// beside is the same database with a group of its own.
func (r *register) beside(t *testing.T) *register {
	t.Helper()
	other := *r
	other.group = addGroup(t, r.admin)
	other.who = sample.Actor(other.group)
	return &other
}

func (r *register) enterSealed(t *testing.T) *scene {
	t.Helper()
	s := newScene()
	r.enter(t, s.change())
	if made := r.seal(t); len(made) != 1 {
		t.Fatalf("Seal() made %d seals, want 1", len(made))
	}
	site := stored(s.site, func(s *registry.Site) *int { return &s.Version })
	site.Name = "Example Crag, lower"
	notice := stored(s.notice, func(n *registry.Notice) *int { return &n.Version })
	notice.AnchorIDs = nil
	r.enter(t, registry.Change{
		What: "changed", Sites: []registry.Site{site}, Notices: []registry.Notice{notice}, StopsOf: []uuid.UUID{s.position.ID},
	})
	r.seal(t)
	return s
}

func TestVerifyFindsNothing(t *testing.T) {
	t.Parallel()
	r, _ := sealedScene(t)
	got := r.verify(t, "")
	if !got.OK() || got.Seals != 2 || got.Unsealed != 0 || got.Entries != r.count(t, `SELECT count(*) FROM ledger`) {
		t.Errorf("VerifyLedger() = %+v, want two seals, all entries and nothing wrong", got)
	}
	if made := r.seal(t); len(made) != 0 {
		t.Errorf("Seal() with nothing to seal made %+v", made)
	}
	lag, err := r.store.SealLag(t.Context(), r.group.ID)
	if err != nil || lag.Entries != 0 || lag.Since != nil {
		t.Errorf("SealLag() = %+v, %v, want none", lag, err)
	}
}

func TestSealsFormAChain(t *testing.T) {
	t.Parallel()
	r, _ := sealedScene(t)
	seals, err := r.store.Seals(t.Context(), r.group.ID, registry.SealPage{Limit: 10})
	if err != nil || len(seals) != 2 {
		t.Fatalf("Seals() = %+v, %v, want two", seals, err)
	}
	newest, before := seals[0], seals[1]
	if newest.Era != 1 || newest.Number != 2 || newest.Previous != before.Hash || before.Previous != "" {
		t.Errorf("Seals() = %+v, want newest first, chained", seals)
	}
	next, err := r.store.Seals(t.Context(), r.group.ID, registry.SealPage{Limit: 10, Era: newest.Era, Number: newest.Number})
	if d := cmp.Diff([]registry.Seal{before}, next); d != "" || err != nil {
		t.Errorf("Seals() after the newest: %v (-want +got):\n%s", err, d)
	}
	if got := r.verify(t, strings.ToUpper(before.Hash[:16])); !got.OK() || got.Found == nil || got.Found.Number != 1 {
		t.Errorf("VerifyLedger(%s) = %+v, want seal 1", before.Hash[:16], got)
	}
	if got := r.verify(t, strings.Repeat("0", 64)); got.OK() || len(got.Faults) != 0 {
		t.Errorf("VerifyLedger() of a seal that is not there = %+v, want not OK", got)
	}
}

// What somebody with the owner's rights does to the rows of the scene, and what
// verifying names.
func TestVerifyNamesTampering(t *testing.T) {
	t.Parallel()
	shared := newRegister(t)
	for _, tt := range []struct {
		name, sql string
		want      []string
	}{
		{"a record changed", `UPDATE inspection SET words = 'nothing wrong' WHERE $G`, []string{"row-changed inspection [private]"}},
		{"not known made no", `UPDATE installation SET rock_sound = 'hollow' WHERE $G`, []string{"row-changed installation [rock_sound]"}},
		{"an inventory row changed", `UPDATE anchor SET metal = '{steel-unknown}', notes = 'x' WHERE $G`, []string{"row-changed anchor [metal private]"}},
		{"a name changed", `UPDATE person SET name = 'Another, invented' WHERE $G`, []string{"row-changed person [private]"}},
		{"a salt changed", `UPDATE ledger_salt SET salt = sha256('x') WHERE noun = 'landowner' AND $G`, []string{"row-changed landowner [private]"}},
		{"a salt deleted", `DELETE FROM ledger_salt WHERE noun = 'parcel' AND $G`, []string{"row-changed parcel [private]"}},
		{"a record deleted", `DELETE FROM settlement WHERE $G`, []string{"row-missing settlement []"}},
		{"a record inserted", `INSERT INTO removal SELECT (json_populate_record(NULL::removal, jsonb_set(to_jsonb(x), '{id}', '"0190f5e4-0000-7000-8000-00000000000f"')::json)).* FROM removal AS x WHERE $G`, []string{"row-extra removal []"}},
		{"records truncated", `TRUNCATE inspection`, []string{"row-missing inspection []"}},
		{"a link deleted", `DELETE FROM assembly_position WHERE $G`, []string{"row-missing assembly_position []"}},
		{"a link put back", `INSERT INTO notice_anchor SELECT n.group_id, n.id, a.id FROM notice AS n JOIN anchor AS a USING (group_id) WHERE $G`, []string{"row-extra notice_anchor []"}},
		{"house rules changed", `UPDATE house_rules SET rules = '{}' WHERE $G`, []string{"row-extra house_rules []", "row-missing house_rules []"}},
		{"a remembered row of an import changed", `UPDATE import_row SET cells = '{x}' WHERE $G`, []string{"row-changed import [rows_hash]"}},
		{"an import changed", `UPDATE import SET file_name = 'x' WHERE $G`, []string{"row-changed import [text_hash]"}},
		{"an entry rewritten", `UPDATE ledger SET who = 'token:x' WHERE noun = 'site' AND before IS NULL AND $G`, []string{"entry-changed site []"}},
		{"an entry deleted", `DELETE FROM ledger WHERE noun = 'site' AND before IS NULL AND $G`, []string{"entries-missing 1.1", "entry-unjoined site []"}},
		{"the last entry of a row deleted", `DELETE FROM ledger WHERE noun = 'removal' AND $G`, []string{"entries-missing 1.1", "row-extra removal []"}},
		{"the ledger truncated", `TRUNCATE ledger`, nil},
		{"an entry inserted", `INSERT INTO ledger (group_id, era, txid, at, who, what, noun, row_id, hash) SELECT group_id, era, txid, at, who, what, noun, row_id, hash FROM ledger WHERE noun = 'sector' AND $G`, []string{"entries-extra 1.1", "entry-changed sector []", "entry-unjoined sector []", "row-extra sector []"}},
		{"entries in another order", `UPDATE ledger SET txid = '1' WHERE noun = 'sector' AND $G`, []string{"stretch-changed 1.1"}},
		{"an entry of no table", `UPDATE ledger SET noun = 'thing' WHERE noun = 'sector' AND $G`, []string{"entry-changed thing []", "noun-unknown thing []", "row-extra sector []"}},
		{"a change inserted as if before the seal", `
INSERT INTO ledger (group_id, era, at, who, what, noun, row_id, before, after, hash)
SELECT group_id, era, '2020-01-01T00:00:00Z', who, what, noun, row_id, after, after, hash FROM ledger WHERE noun = 'sector' AND $G`, []string{"entry-backdated sector []", "entry-changed sector []"}},
		{"a seal rewritten", `UPDATE ledger_seal SET at = at + interval '1 day' WHERE number = 1 AND $G`, []string{"seal-changed 1.1"}},
		{"a seal deleted", `DELETE FROM ledger_seal WHERE number = 1 AND $G`, []string{"entries-extra 1.2", "seal-gone 1.1", "seal-missing 1.2"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := shared.beside(t)
			r.enterSealed(t)
			sql := strings.ReplaceAll(tt.sql, "$G", "group_id = '"+r.group.ID.String()+"'")
			if _, err := r.db.Owner().Exec(t.Context(), sql); err != nil {
				t.Fatal(err)
			}
			got := r.verify(t, "")
			if got.OK() {
				t.Fatalf("VerifyLedger() finds nothing")
			}
			if d := cmp.Diff(tt.want, faults(got)); tt.want != nil && d != "" {
				t.Errorf("VerifyLedger() differs (-want +got):\n%s", d)
			}
		})
	}
}

// It has a database of its own: seal waits for every entry's transaction.
func TestVerifyNamesATransactionToCome(t *testing.T) {
	t.Parallel()
	r, _ := sealedScene(t)
	_, err := r.db.Owner().Exec(t.Context(), `
INSERT INTO ledger (group_id, era, txid, at, who, what, noun, row_id, before, after, hash)
SELECT group_id, era, '90000000000', at, who, what, noun, row_id, after, after, hash FROM ledger WHERE noun = 'sector'`)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"entry-ahead sector []", "entry-changed sector []"}
	if d := cmp.Diff(want, faults(r.verify(t, ""))); d != "" {
		t.Errorf("VerifyLedger() differs (-want +got):\n%s", d)
	}
}

// faults writes faults in short, sorted.
func faults(c registry.LedgerCheck) []string {
	var list []string
	for _, f := range c.Faults {
		if f.Noun == "" {
			list = append(list, fmt.Sprintf("%s %d.%d", f.Trouble, f.Era, f.Number))
			continue
		}
		list = append(list, fmt.Sprintf("%s %s %v", f.Trouble, f.Noun, f.Fields))
	}
	slices.Sort(list)
	return list
}

// Whatever column of whatever row is changed behind the service's back, it is
// found, and nothing else is; once all is put back, nothing is.
func TestVerifyFindsAnyChange(t *testing.T) {
	t.Parallel()
	r, _ := sealedScene(t)
	columns := r.strings(t, `
SELECT c.relname || '.' || a.attname || '.' || format_type(a.atttypid, a.atttypmod)
FROM pg_attribute AS a
JOIN pg_class AS c ON c.oid = a.attrelid AND c.relrowsecurity
WHERE a.attnum > 0 AND NOT a.attisdropped AND a.attname NOT IN ('group_id', 'since')
  AND c.relname !~ '^assessment|^picture_data|^route_position|^notice_anchor|^import_(row|job|piece)'
  AND format_type(a.atttypid, a.atttypmod) IN ('text', 'boolean', 'double precision', 'date', 'timestamp with time zone', 'integer', 'text[]')
ORDER BY 1`)
	changed := map[string]string{
		"text": "COALESCE(%[1]s, '') || 'x'", "boolean": "NOT COALESCE(%[1]s, true)", "double precision": "COALESCE(%[1]s, 0) + 1",
		"date": "COALESCE(%[1]s, '2020-01-01') + 1", "timestamp with time zone": "COALESCE(%[1]s, now()) + interval '1 second'",
		"integer": "COALESCE(%[1]s, 0) + 1", "text[]": "array_append(%[1]s, 'x')",
	}
	tried := 0
	for _, together := range rounds(columns) {
		var want []string
		var puts []func()
		for _, c := range together {
			parts := strings.Split(c, ".")
			table, column := pgx.Identifier{parts[0]}.Sanitize(), pgx.Identifier{parts[1]}.Sanitize()
			before := r.strings(t, `SELECT json_agg(x)::text FROM `+table+` AS x HAVING count(*) > 0`)
			if len(before) == 0 {
				continue // nothing is there
			}
			sql := `UPDATE ` + table + ` SET ` + column + ` = ` + fmt.Sprintf(changed[parts[2]], column)
			if _, err := r.db.Owner().Exec(t.Context(), sql); err != nil {
				continue // a rule of the table refuses it
			}
			want = append(want, parts[0])
			puts = append(puts, func() { r.putBack(t, table, column, before[0]) })
		}
		if len(want) == 0 {
			continue
		}
		slices.Sort(want)
		tried++
		got := r.verify(t, "")
		if ofLedger := strings.HasPrefix(want[0], "ledger"); ofLedger && got.OK() {
			t.Errorf("VerifyLedger() finds nothing after %v was changed", together)
		} else if d := cmp.Diff(want, faultyNouns(got)); !ofLedger && d != "" {
			t.Errorf("VerifyLedger() after %v were changed (-want +got):\n%s", together, d)
		}
		for _, put := range puts {
			put()
		}
	}
	if got := r.verify(t, ""); !got.OK() {
		t.Errorf("VerifyLedger() after all was put back: %v", faults(got))
	}
	if tried == 0 {
		t.Error("nothing was tried")
	}
}

// rounds parts columns, "table.column.type" in order, into rounds: one of each
// table at a time, and those of the ledger itself alone.
func rounds(columns []string) [][]string {
	var alone, out [][]string
	taken := make(map[string]int)
	for _, c := range columns {
		table, _, _ := strings.Cut(c, ".")
		if strings.HasPrefix(table, "ledger") {
			alone = append(alone, []string{c})
			continue
		}
		n := taken[table]
		if taken[table]++; n == len(out) {
			out = append(out, nil)
		}
		out[n] = append(out[n], c)
	}
	return append(out, alone...)
}

// faultyNouns lists, sorted, the tables that faults are about.
func faultyNouns(c registry.LedgerCheck) []string {
	var list []string
	for _, f := range c.Faults {
		list = append(list, f.Noun)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// Whatever table a group has rows in, the ledger speaks of it, or it is said here
// why not.
func TestVerifyKnowsEveryTable(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	without := map[string]string{
		"ledger": "itself", "ledger_seal": "over it", "ledger_salt": "of its veils", "ledger_tip": "of its seals",
		"assessment": "derived", "assessment_history": "derived", "assessment_candidate": "derived",
		"assessment_due": "derived", "assessment_finding": "derived",
		"import_row": "bound by the import's entry", "import_job": "work in hand", "import_piece": "work in hand",
		"picture_data": "bound by the picture's hash",
	}
	known := postgres.LedgerTables()
	for _, table := range r.strings(t, `SELECT relname FROM pg_class WHERE relrowsecurity AND relkind IN ('r', 'p') ORDER BY 1`) {
		reason, ok := without[table]
		if open := ok && (reason == "derived" || reason == "work in hand" || table == "picture_data"); open != slices.Contains(registry.NotProved(), table) {
			t.Errorf("%s: %q, and NotProved lists it: %v", table, reason, !open)
		}
		if ok == slices.Contains(known, table) {
			t.Errorf("%s: the ledger speaks of it: %v, it is said here why not: %v", table, slices.Contains(known, table), ok)
		}
	}
}

// Where a column came later, NOT NULL with a default, what older entries lack
// must be said.
func TestLaterColumnsAreSaid(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	got := r.strings(t, `
SELECT c.relname || '.' || a.attname
FROM pg_attribute AS a
JOIN pg_class AS c ON c.oid = a.attrelid AND c.relrowsecurity
WHERE a.attnum > 0 AND a.attnotnull AND a.atthasdef AND NOT a.attisdropped
  AND a.attgenerated = '' AND c.relname NOT IN ('ledger', 'house_rules', 'import_job', 'import_piece', 'import_row')
  AND c.relname !~ '^assessment'
ORDER BY 1`)
	said := postgres.LaterColumns()
	for _, column := range got {
		if !slices.Contains(said, column) {
			t.Errorf("%s has a default: say in holding.go what it means that older entries lack it", column)
		}
	}
}

// putBack restores one column of a table from its rows as JSON, by primary key.
func (r *register) putBack(t *testing.T, table, column, rows string) {
	t.Helper()
	keys := r.strings(t, `
SELECT '"' || a.attname || '"'
FROM pg_index AS i
JOIN pg_attribute AS a ON a.attrelid = i.indrelid AND a.attnum = ANY (i.indkey)
WHERE i.indisprimary AND i.indrelid = '`+table+`'::regclass
ORDER BY 1`)
	where := make([]string, 0, len(keys))
	for _, k := range keys {
		if k != column {
			where = append(where, "t."+k+" = k."+k)
		}
	}
	_, err := r.db.Owner().Exec(t.Context(), `UPDATE `+table+` AS t SET `+column+` = k.`+column+`
FROM json_populate_recordset(NULL::`+table+`, $1::json) AS k
WHERE `+strings.Join(where, " AND "), rows)
	if err != nil {
		t.Fatal(err)
	}
}

func TestSealLeavesOutWhatIsAtWork(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	r.seal(t)
	tx, err := r.db.Owner().Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = tx.Rollback(context.WithoutCancel(t.Context())) }()
	if _, err := tx.Exec(t.Context(), `SELECT pg_current_xact_id()`); err != nil {
		t.Fatal(err)
	}
	r.enter(t, registry.Change{What: "later", Sites: []registry.Site{sample.Site()}})
	if made, err := r.store.Seal(t.Context(), r.group.ID, sample.At); err != nil || len(made) != 0 {
		t.Errorf("Seal() beside an older transaction made %+v, %v, want none", made, err)
	}
	lag, err := r.store.SealLag(t.Context(), r.group.ID)
	if err != nil || lag.Entries != 1 || lag.Since == nil || !lag.Since.Equal(sample.At) {
		t.Errorf("SealLag() = %+v, %v, want one entry since %v", lag, err, sample.At)
	}
	if got := r.verify(t, ""); !got.OK() || got.Unsealed != 1 {
		t.Errorf("VerifyLedger() = %+v, want one entry unsealed", got)
	}
	if err := tx.Commit(t.Context()); err != nil {
		t.Fatal(err)
	}
	if made := r.seal(t); len(made) != 1 || made[0].Entries != 2 {
		t.Errorf("Seal() after it = %+v, want one entry and the witness to the seal before", made)
	}
}

func TestManySealersMakeOneChain(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	var wg sync.WaitGroup
	errs := make([]error, 6)
	for i := range errs {
		wg.Go(func() {
			for n := range 5 {
				if i%2 == 0 {
					_, errs[i] = r.store.Seal(t.Context(), r.group.ID, sample.At)
				} else {
					errs[i] = r.store.Write(t.Context(), r.who, registry.Change{
						What: fmt.Sprint(i, n), At: sample.At, Sites: []registry.Site{sample.Site()},
					})
				}
				if errs[i] != nil {
					return
				}
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			t.Error(err)
		}
	}
	r.seal(t)
	if got := r.verify(t, ""); !got.OK() || got.Unsealed != 0 || got.Entries != 2+15+got.Seals {
		t.Errorf("VerifyLedger() = %+v, want one chain over 17 entries and a witness to each seal", got)
	}
}

// After a restore the server counts transactions anew.
func TestANewEraComesAfter(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	r.seal(t)
	r.enter(t, registry.Change{What: "before", Sites: []registry.Site{sample.Site()}})
	if _, err := r.db.Owner().Exec(t.Context(), `UPDATE ledger SET txid = '9000000000' WHERE what = 'before'`); err != nil {
		t.Fatal(err)
	}
	if made, err := r.store.Seal(t.Context(), r.group.ID, sample.At); err != nil || len(made) != 0 {
		t.Fatalf("Seal() of a transaction to come made %+v, %v", made, err)
	}
	era, err := r.admin.RaiseEra(t.Context(), "restored, invented")
	if err != nil || era != 2 {
		t.Fatalf("RaiseEra() = %d, %v, want 2", era, err)
	}
	r.enter(t, registry.Change{What: "after", Sites: []registry.Site{sample.Site()}})
	made := r.seal(t)
	if len(made) != 2 || made[0].Era != 1 || made[0].Number != 2 || made[1].Era != 2 || made[1].Number != 1 || made[1].Previous != made[0].Hash {
		t.Errorf("Seal() in a new era = %+v, want the rest of era 1, then 2.1 chained to it", made)
	}
	if got := r.verify(t, ""); !got.OK() || got.Unsealed != 0 {
		t.Errorf("VerifyLedger() = %+v, want nothing wrong", got)
	}
	if _, err := r.db.App.Exec(t.Context(), `INSERT INTO ledger_era (era, why) VALUES (3, 'x')`); !refused(err) {
		t.Errorf("the application raises the era: error %v, want refused", err)
	}
}

func TestSealsOfAnotherGroupAreNotSeen(t *testing.T) {
	t.Parallel()
	r, _ := sealedScene(t)
	other := addGroup(t, r.admin)
	seals, err := r.store.Seals(t.Context(), other.ID, registry.SealPage{})
	if err != nil || len(seals) != 0 {
		t.Errorf("Seals() of another group = %+v, %v, want none", seals, err)
	}
	newest, err := r.store.Seals(t.Context(), r.group.ID, registry.SealPage{Limit: 1})
	if err != nil || len(newest) != 1 {
		t.Fatal(newest, err)
	}
	got, err := r.store.VerifyLedger(t.Context(), other.ID, newest[0].Hash)
	if err != nil || got.Found != nil || got.Seals != 0 {
		t.Errorf("VerifyLedger() of another group's seal = %+v, %v, want not found", got, err)
	}
}
