package postgres_test

import (
	"bytes"
	"testing"

	"rockledger/internal/houserules"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// Versions come newest first, each with who put it in force, and only those of
// their group, also where seals stand between them in the ledger.
func TestRulesVersionsSayWho(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	other := &register{db: r.db, store: r.store, admin: r.admin, group: addGroup(t, r.admin)}
	other.who = sample.Actor(other.group)
	account := registry.Account{ID: sample.ID(), Email: "steward@example.org", Name: "An Example", PasswordHash: "x"}
	if err := r.admin.AddAccount(t.Context(), account); err != nil {
		t.Fatal(err)
	}
	if err := r.admin.SetMembership(t.Context(), registry.Membership{AccountID: account.ID, Group: r.group, Role: registry.RoleSteward}); err != nil {
		t.Fatal(err)
	}
	text, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	r.who.Who = "account:" + account.ID.String()
	if _, err := r.store.Seal(t.Context(), r.group.ID, sample.At); err != nil {
		t.Fatal(err)
	}
	if err := r.write(t, registry.Change{Rules: text, RulesVersion: 2}); err != nil {
		t.Fatal(err)
	}
	if err := other.write(t, registry.Change{Rules: text, RulesVersion: 2}); err != nil {
		t.Fatal(err)
	}
	versions := func(store *postgres.Store, limit int) []registry.RulesVersion {
		t.Helper()
		list, err := store.RulesVersions(t.Context(), r.group.ID, limit)
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	got := versions(r.store, 9)
	if len(got) != 2 || got[0].Version != 2 || got[1].Version != 1 {
		t.Fatalf("versions %+v, want 2 and 1", got)
	}
	if got[0].Who != r.who.Who || got[0].Name != "An Example" || !bytes.Equal(got[0].Text, text) || got[0].Since.IsZero() {
		t.Errorf("version 2 by %q, %q since %v", got[0].Who, got[0].Name, got[0].Since)
	}
	if got[1].Who == "" || got[1].Name != "" {
		t.Errorf("version 1 by %q, %q, want the command line, which has no name here", got[1].Who, got[1].Name)
	}
	if got := versions(r.store, 1); len(got) != 1 || got[0].Version != 2 || got[0].Name == "" {
		t.Errorf("the newest alone: %+v", got)
	}
}
