package postgres_test

import (
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// What comes with the register is copied once, marked, and entered in the
// ledger; a second time, and an entry that was ended, change nothing.
func TestShip(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	ship := func(list []registry.Product, want int) {
		t.Helper()
		if n, err := r.admin.Ship(t.Context(), r.group.ID, list); err != nil || n != want {
			t.Fatalf("Ship() = %d, %v, want %d", n, err, want)
		}
	}
	list := registry.ShippedProducts()
	ship(list[1:], len(list)-1)
	products, err := r.store.Products(t.Context(), r.group.ID, "", registry.Page{})
	if err != nil || len(products) != len(list)-1 {
		t.Fatalf("%d products, %v, want %d", len(products), err, len(list)-1)
	}
	for _, p := range products {
		if !p.Shipped || p.Version != 1 || p.Maker != "" || p.Metal.Known() {
			t.Errorf("shipped product %+v, want it marked, without maker or metal", p)
		}
	}
	ended := products[0]
	ended.EndedOn = sample.Day
	if err := r.write(t, registry.Change{Products: []registry.Product{ended}}); err != nil {
		t.Fatal(err)
	}
	ship(list, 1)
	ship(list, 0)
	noted := r.strings(t, `SELECT row_id::text FROM ledger WHERE what = 'generic products added' AND noun = 'product'`)
	if len(noted) != len(list) {
		t.Errorf("%d ledger entries, want %d", len(noted), len(list))
	}
	if _, err := r.admin.Ship(t.Context(), sample.ID(), list); fault.KindOf(err) != fault.NotFound {
		t.Errorf("Ship() to no group: %v, want not found", err)
	}
}
