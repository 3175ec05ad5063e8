package app_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// registerAtWork is a group whose register somebody works on.
type registerAtWork struct {
	*house
	t       *testing.T
	rt      *rapid.T
	persons []registry.Person
	imports []uuid.UUID
	lists   int
}

// Whatever is done through the service, its ledger holds: seals, entries and
// tables fit, with seals and eras in between.
func TestTheLedgerOfOrdinaryWorkHolds(t *testing.T) {
	t.Parallel()
	h, groups := newHouse(t), 0
	h.CutPieces(2)
	rapid.Check(t, func(rt *rapid.T) {
		groups++
		h.who = h.addGroup(t, fmt.Sprintf("work-%d", groups))
		w := &registerAtWork{house: h, t: t, rt: rt}
		w.take(smallList)
		works := []string{"change", "import", "correct", "job", "undo", "erase", "person", "rules", "access", "assembly", "notice", "era", "seal"}
		for range rapid.IntRange(1, 8).Draw(rt, "works") {
			w.work(rapid.SampledFrom(works).Draw(rt, "work"))
		}
		for range 2 {
			check, err := h.VerifyLedger(t.Context(), h.who, "")
			if err != nil || !check.OK() {
				rt.Fatalf("VerifyLedger() = %+v, %v, want nothing wrong", check, err)
			}
			w.work("seal")
		}
	})
}

// work does one thing; what is refused is not done.
func (w *registerAtWork) work(what string) {
	var err error
	switch ctx := w.t.Context(); what {
	case "change":
		w.changeAnchor()
	case "import":
		w.lists++
		w.take(strings.ReplaceAll(smallList, "Plum Line", fmt.Sprint("Line ", w.lists)))
	case "correct":
		state := rapid.SampledFrom([]string{"spins", "not found", "removed"}).Draw(w.rt, "state")
		w.take(strings.Replace(smallList, ",ok\n", ","+state+"\n", 1))
	case "job":
		w.lists++
		list := parse(w.t, "long.csv", []byte(strings.ReplaceAll(smallList, "Plum Line", fmt.Sprint("Line ", w.lists))))
		id := w.handIn(w.t, w.who, list).ID
		w.runThrough(w.t, w.who, id)
		w.imports = append(w.imports, id)
	case "undo":
		if len(w.imports) > 0 {
			_, _, err = w.UndoImport(ctx, w.who, rapid.SampledFrom(w.imports).Draw(w.rt, "import"))
		}
	case "person":
		w.somebody()
	case "erase":
		err = w.ErasePerson(ctx, w.who, w.somebody().ID, "invented")
	case "rules":
		var text []byte
		var version int
		if text, version, err = w.HouseRules(ctx, w.who); err == nil {
			_, err = w.SetHouseRules(ctx, w.who, replaceNumber(w.t, text, "first_round_months", 20+version), version)
		}
	case "access":
		w.access()
	case "assembly":
		w.assemble()
	case "notice":
		w.warn()
	case "era":
		_, err = w.admin.RaiseEra(ctx, "restored, invented")
	case "seal":
		_, err = w.SealLedgers(ctx)
	}
	w.bear(err)
}

// bear fails the test for what is more than a refusal.
func (w *registerAtWork) bear(err error) {
	w.t.Helper()
	switch fault.KindOf(err) {
	case fault.Invalid, fault.Conflict, fault.NotFound:
	default:
		if err != nil {
			w.rt.Fatal(err)
		}
	}
}

func (w *registerAtWork) take(csv string) {
	r, err := w.Import(w.t.Context(), w.who, parse(w.t, "small.csv", []byte(csv)), false)
	if err != nil {
		w.rt.Fatal(err)
	}
	if r.ID != "" {
		w.imports = append(w.imports, uuid.MustParse(r.ID))
	}
}

// somebody is a person of the group, new or not.
func (w *registerAtWork) somebody() registry.Person {
	if n := len(w.persons); n == 0 || rapid.Bool().Draw(w.rt, "somebody new") {
		w.persons = append(w.persons, add(w.t, w.house, registry.Person{Name: fmt.Sprintf("Invented Person %d", n)}, w.AddPerson))
	}
	p, err := w.Person(w.t.Context(), w.who, rapid.SampledFrom(w.persons).Draw(w.rt, "person").ID)
	if err == nil {
		_, err = w.ChangePerson(w.t.Context(), w.who, p.ID, p.Version, func(p *registry.Person) error {
			p.Name += "x"
			return nil
		})
	}
	w.bear(err)
	return p
}

func (w *registerAtWork) changeAnchor() {
	lines := w.anchors(w.t, registry.AnchorFilter{})
	if len(lines) == 0 {
		return
	}
	anchor := rapid.SampledFrom(lines).Draw(w.rt, "anchor").Anchor.ID
	person := w.somebody()
	for range rapid.IntRange(1, 3).Draw(w.rt, "changes") {
		w.changeSomehow(w.t, w.rt, anchor, person, firstDay)
	}
}

func (w *registerAtWork) access() {
	ctx, account := w.t.Context(), registry.Account{ID: uuid.Must(uuid.NewV7()), Name: "Invented", PasswordHash: "x"}
	account.Email = account.ID.String() + "@example.org"
	if err := w.admin.AddAccount(ctx, account); err != nil {
		w.rt.Fatal(err)
	}
	group := registry.Group{ID: w.who.GroupID}
	for _, role := range []registry.Role{registry.RoleRecorder, registry.RoleSteward} {
		if err := w.admin.SetMembership(ctx, registry.Membership{AccountID: account.ID, Group: group, Role: role}); err != nil {
			w.rt.Fatal(err)
		}
	}
	if rapid.Bool().Draw(w.rt, "drop") {
		if err := w.admin.DropDemoCredentials(ctx, group.ID); err != nil {
			w.rt.Fatal(err)
		}
	}
}

// assemble makes an assembly of two positions, then leaves one of them out, and
// puts it back.
func (w *registerAtWork) assemble() {
	lines := w.anchors(w.t, registry.AnchorFilter{})
	if len(lines) < 2 {
		return
	}
	both := []uuid.UUID{lines[0].Anchor.PositionID, lines[1].Anchor.PositionID}
	a, _, err := w.AddAssembly(w.t.Context(), w.who, registry.Assembly{ID: uuid.Must(uuid.NewV7()), SiteID: lines[0].Anchor.SiteID, Name: "belay", Kind: registry.InSeries, PositionIDs: both})
	for _, positions := range [][]uuid.UUID{both[:1], both} {
		if w.bear(err); err != nil {
			return
		}
		a, err = w.ChangeAssembly(w.t.Context(), w.who, a.ID, a.Version, func(a *registry.Assembly) error {
			a.PositionIDs = positions
			return nil
		})
	}
	w.bear(err)
}

// warn issues a notice about an anchor and then about another.
func (w *registerAtWork) warn() {
	lines := w.anchors(w.t, registry.AnchorFilter{})
	if len(lines) == 0 {
		return
	}
	n, _, err := w.AddNotice(w.t.Context(), w.who, registry.Notice{
		ID: uuid.Must(uuid.NewV7()), Title: "Invented", Words: "look", IssuedOn: firstDay, InspectBy: firstDay + 9, AnchorIDs: []uuid.UUID{lines[0].Anchor.ID},
	})
	if w.bear(err); err != nil {
		return
	}
	_, err = w.ChangeNotice(w.t.Context(), w.who, n.ID, n.Version, func(n *registry.Notice) error {
		n.AnchorIDs = []uuid.UUID{lines[len(lines)-1].Anchor.ID}
		return nil
	})
	w.bear(err)
}
