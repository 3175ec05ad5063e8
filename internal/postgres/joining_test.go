package postgres_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/ledger"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// renamed changes a site's name as the service does.
func (r *register) renamed(t *testing.T, id uuid.UUID, name string) {
	t.Helper()
	s, err := r.store.Site(t.Context(), r.group.ID, id)
	if err != nil {
		t.Fatal(err)
	}
	s.Name = name
	r.enter(t, registry.Change{What: "site changed", Sites: []registry.Site{s}})
}

// text is a text of the nth entry about a row, from 1.
func (r *register) text(t *testing.T, column string, row uuid.UUID, nth int) string {
	t.Helper()
	got := r.strings(t, fmt.Sprintf(`SELECT COALESCE(%s, '') FROM ledger WHERE row_id = '%s' AND noun !~ '_position$' ORDER BY id LIMIT 1 OFFSET %d`, column, row, nth-1))
	if len(got) != 1 {
		t.Fatalf("no entry %d about %s", nth, row)
	}
	return got[0]
}

// forge enters an entry about a site behind the service's back, with the right
// hash.
func (r *register) forge(t *testing.T, row uuid.UUID, before, after string) {
	t.Helper()
	e := ledger.Entry{GroupID: r.group.ID, At: sample.At, Who: "token:x", What: "site changed", Noun: "site", RowID: row, Before: before, After: after}
	hash, err := e.Hash()
	if err != nil {
		t.Fatal(err)
	}
	r.owner(t, `
INSERT INTO ledger (group_id, era, at, who, what, noun, row_id, before, after, hash)
SELECT $1, max(era), $2, $3, $4, $5, $6, NULLIF($7, ''), NULLIF($8, ''), $9 FROM ledger_era`,
		e.GroupID, e.At, e.Who, e.What, e.Noun, e.RowID, before, after, hash[:])
}

func TestVerifyNamesEntriesThatDoNotJoin(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		tamper func(t *testing.T, r *register, site uuid.UUID)
		want   []string
	}{
		{"a forged pair", func(t *testing.T, r *register, site uuid.UUID) {
			now := r.text(t, "after", site, 3)
			r.forge(t, site, strings.Replace(now, "Third", "Never", 1), strings.Replace(now, "Third", "Once", 1))
			r.forge(t, site, strings.Replace(now, "Third", "Once", 1), now)
		}, []string{"entry-unjoined site [name]"}},
		{"a forged entry, and its table", func(t *testing.T, r *register, site uuid.UUID) {
			r.forge(t, site, r.text(t, "after", site, 2), strings.Replace(r.text(t, "after", site, 3), "Third", "Forged", 1))
			r.owner(t, `UPDATE site SET name = 'Forged' WHERE id = $1`, site)
		}, []string{"entry-unjoined site [name version]"}},
		{"a row taken away twice", func(t *testing.T, r *register, site uuid.UUID) {
			now := r.text(t, "after", site, 3)
			r.forge(t, site, now, "")
			r.forge(t, site, now, "")
			r.owner(t, `DELETE FROM site WHERE id = $1`, site)
		}, []string{"entry-unjoined site []"}},
		{"a row entered once more", func(t *testing.T, r *register, site uuid.UUID) {
			r.forge(t, site, "", r.text(t, "after", site, 3))
		}, []string{"entry-unjoined site []"}},
		{"an entry taken away", func(t *testing.T, r *register, site uuid.UUID) {
			r.owner(t, `DELETE FROM ledger WHERE row_id = $1 AND after LIKE '%Second%'`, site)
		}, []string{"entry-unjoined site [name version]"}},
		{"the first entry taken away", func(t *testing.T, r *register, site uuid.UUID) {
			r.owner(t, `DELETE FROM ledger WHERE row_id = $1 AND before IS NULL`, site)
		}, []string{"entry-unjoined site []"}},
		{"the last entry taken away, and the table taken back", func(t *testing.T, r *register, site uuid.UUID) {
			r.owner(t, `DELETE FROM ledger WHERE row_id = $1 AND after LIKE '%Third%'`, site)
			r.owner(t, `UPDATE site SET name = 'Second', version = 2 WHERE id = $1`, site)
		}, nil}, // nothing is left of it: it was not sealed
		{"two entries swapped", func(t *testing.T, r *register, site uuid.UUID) {
			r.owner(t, `
UPDATE ledger AS l
SET before = o.before, after = o.after, hash = o.hash
FROM ledger AS o
WHERE l.row_id = $1 AND o.row_id = $1 AND l.id <> o.id AND l.before IS NOT NULL AND o.before IS NOT NULL`, site)
		}, []string{"entry-unjoined site [name version]", "entry-unjoined site [name version]", "row-changed site [name version]"}},
		{"a row changed behind the service's back, and then by it", func(t *testing.T, r *register, site uuid.UUID) {
			r.owner(t, `UPDATE site SET name = 'Behind' WHERE id = $1`, site)
			r.renamed(t, site, "Fourth")
		}, []string{"entry-unjoined site [name]"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := newRegister(t)
			site := r.addSite(t)
			r.renamed(t, site, "Second")
			r.renamed(t, site, "Third")
			if got := r.verify(t, ""); !got.OK() {
				t.Fatalf("VerifyLedger() before = %v", faults(got))
			}
			tt.tamper(t, r, site)
			if d := cmp.Diff(tt.want, faults(r.verify(t, ""))); d != "" {
				t.Errorf("VerifyLedger() differs (-want +got):\n%s", d)
			}
			r.seal(t)
			if d := cmp.Diff(tt.want, faults(r.verify(t, ""))); d != "" {
				t.Errorf("VerifyLedger() once it is sealed differs (-want +got):\n%s", d)
			}
		})
	}
}

// A transaction that began first may change a row last: the entries of a row join
// in the order of their ids, not of their transactions.
func TestEntriesJoinInTheOrderOfTheChanges(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	site := stored(s.site, func(s *registry.Site) *int { return &s.Version })
	err := r.store.Change(t.Context(), r.who, []uuid.UUID{s.anchor.ID}, func([]registry.Facts, houserules.Rules) (registry.Change, error) {
		r.renamed(t, s.site.ID, "Second") // while this transaction holds the anchor
		site.Name, site.Version = "Third", site.Version+1
		return registry.Change{What: "older", At: sample.At, Sites: []registry.Site{site}}, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	crossed := r.count(t, `
SELECT count(*)
FROM ledger AS a
JOIN ledger AS b ON b.row_id = a.row_id AND b.txid < a.txid AND b.id > a.id
WHERE a.row_id = $1 AND a.after LIKE '%Second%' AND b.after LIKE '%Third%'`, s.site.ID)
	if crossed != 1 {
		t.Fatalf("%d pairs of entries whose transactions cross, want 1", crossed)
	}
	for range 2 {
		if got := r.verify(t, ""); !got.OK() {
			t.Errorf("VerifyLedger() = %v, want nothing wrong", faults(got))
		}
		r.seal(t)
	}
}

// Entries of earlier versions lack columns that came later, and hold what is
// veiled now.
func TestEntriesOfEarlierVersionsJoin(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	earlier := func(row uuid.UUID, edit func(map[string]any)) {
		t.Helper()
		members := make(map[string]any)
		if err := json.Unmarshal([]byte(r.text(t, "after", row, 1)), &members); err != nil {
			t.Fatal(err)
		}
		edit(members)
		text, err := ledger.Canonical(members)
		if err != nil {
			t.Fatal(err)
		}
		r.owner(t, `UPDATE ledger SET after = $2 WHERE row_id = $1 AND noun !~ '_position$' AND before IS NULL`, row, text)
	}
	earlier(s.site.ID, func(m map[string]any) {
		delete(m, ledger.VeilMember)
		m["notes"] = s.site.Notes
	})
	earlier(s.person.ID, func(m map[string]any) {
		delete(m, ledger.VeilMember)
		delete(m, "erased")
	})
	earlier(s.position.ID, func(m map[string]any) { delete(m, "parcel_by_hand") })
	site := stored(s.site, func(s *registry.Site) *int { return &s.Version })
	person := stored(s.person, func(p *registry.Person) *int { return &p.Version })
	position := stored(s.position, func(p *registry.Position) *int { return &p.Version })
	site.Name, person.Name, position.Label = "Second", "Invented Second", "2"
	r.enter(t, registry.Change{
		What: "changed", Sites: []registry.Site{site}, Persons: []registry.Person{person}, Positions: []registry.Position{position},
	})
	if got := distinctFaults(r.verify(t, ""), "entry-changed site []", "entry-changed person []", "entry-changed position []"); len(got) > 0 {
		t.Errorf("VerifyLedger() = %v, want nothing but that texts were changed here", got)
	}
	earlier(s.site.ID, func(m map[string]any) { m["slug"] = "another" })
	if got := faults(r.verify(t, "")); !strings.Contains(strings.Join(got, "; "), "entry-unjoined site [slug]") {
		t.Errorf("VerifyLedger() of an earlier entry changed = %v", got)
	}
}

// Migration 5 said of positions whose parcel was named that it was by hand, and
// entered nothing: the entry after it begins with what the one before lacks.
func TestAPositionFromBeforeParcelsByHandJoins(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	r.owner(t, `UPDATE ledger SET after = replace(after, '"parcel_by_hand":false,', '') WHERE row_id = $1 AND noun = 'position'`, s.position.ID)
	r.owner(t, `UPDATE position SET parcel_by_hand = true WHERE id = $1`, s.position.ID)
	position := stored(s.position, func(p *registry.Position) *int { return &p.Version })
	position.Label = "2"
	r.enter(t, registry.Change{What: "changed", Positions: []registry.Position{position}})
	if r.count(t, `SELECT count(*) FROM ledger WHERE row_id = $1 AND before LIKE '%"parcel_by_hand":true%'`, s.position.ID) != 1 {
		t.Fatal("no entry begins with a parcel named by hand")
	}
	if got := distinctFaults(r.verify(t, ""), "entry-changed position []"); len(got) > 0 {
		t.Errorf("VerifyLedger() = %v, want nothing but that a text was changed here", got)
	}
}

// Access is set in place of what was, and dropped by its id.
func TestEntriesAboutAccessJoin(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	account := registry.Account{ID: sample.ID(), Email: "invented@example.org", Name: "Invented", PasswordHash: "x"}
	if err := r.admin.AddAccount(t.Context(), account); err != nil {
		t.Fatal(err)
	}
	for i, role := range []registry.Role{registry.RoleRecorder, registry.RoleSteward, registry.RoleOwner} {
		token := registry.Token{ID: sample.ID(), GroupID: r.group.ID, Name: "invented", Role: role, Hash: []byte(strings.Repeat(string(role[:1]), 32)), CreatedAt: sample.At}
		if err := r.admin.AddToken(t.Context(), token); err != nil {
			t.Fatal(err)
		}
		if err := r.admin.SetMembership(t.Context(), registry.Membership{AccountID: account.ID, Group: r.group, Role: role}); err != nil {
			t.Fatal(err)
		}
		if i == 1 {
			if err := r.admin.DropDemoCredentials(t.Context(), r.group.ID); err != nil {
				t.Fatal(err)
			}
			if err := r.admin.AddAccount(t.Context(), account); err != nil {
				t.Fatal(err)
			}
		}
	}
	if got := r.verify(t, ""); !got.OK() {
		t.Errorf("VerifyLedger() = %v, want nothing wrong", faults(got))
	}
	r.owner(t, `DELETE FROM ledger WHERE noun = 'access_token' AND before IS NULL`)
	if got := faults(r.verify(t, "")); !strings.Contains(strings.Join(got, "; "), "row-extra access_token []") {
		t.Errorf("VerifyLedger() without the entries about tokens = %v", got)
	}
}
