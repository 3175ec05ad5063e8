package postgres_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// adhesiveSheet is an invented sheet with every figure that one of an adhesive
// can have.
func adhesiveSheet(p registry.Product) registry.ProductVersion {
	return sample.ProductVersion(p, func(v *registry.ProductVersion) {
		v.Hole, v.Shank, v.Length, v.Embedded, v.AxialKN, v.RadialKN, v.Drawing = nil, nil, nil, nil, nil, nil, ""
		v.CureRows = []registry.CureRow{
			{FromC: -5, ToC: 4.5, WorkMinutes: 45, CureMinutes: 420, CureWetMinutes: sample.Of(840)},
			{FromC: 5, ToC: 9, WorkMinutes: 25, CureMinutes: 120},
		}
		v.WetFactor, v.Moistures = sample.Of(2.0), []registry.Moisture{registry.HoleDry, registry.HoleDamp}
		v.RockLowC, v.RockHighC = sample.Of(quantity.Temperature(-5)), sample.Of(quantity.Temperature(35))
		v.CartridgeLowC, v.CartridgeHighC = sample.Of(quantity.Temperature(5)), sample.Of(quantity.Temperature(30))
		v.CleaningCycles, v.ShelfMonths, v.CartridgeML = sample.Of(4), sample.Of(18), sample.Of(345.0)
	})
}

func TestSheetsReadAsTheyWereStored(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	s.version.SteelAreaMM2, s.version.TorqueNM = sample.Of(84.3), sample.Of(40.0)
	s.version.EdgeLeast, s.version.SpacingLeast = sample.Of(quantity.Length(150)), sample.Of(quantity.Length(200))
	glue := adhesiveSheet(s.adhesive)
	s.batch.Received, s.batch.OnHand = sample.Of(12), sample.Of(7)
	s.adhesive.Shipped = true
	r.enter(t, s.change())
	if err := r.write(t, registry.Change{ProductVersions: []registry.ProductVersion{glue}}); err != nil {
		t.Fatal(err)
	}
	ctx, g := t.Context(), r.group.ID
	for product, want := range map[uuid.UUID]registry.ProductVersion{s.hardware.ID: s.version, s.adhesive.ID: glue} {
		same(t, "sheet", []registry.ProductVersion{want}, func() ([]registry.ProductVersion, error) {
			return r.store.ProductVersions(ctx, g, product)
		})
	}
	s.batch.Version, s.adhesive.Version = 1, 1
	same(t, "batch", s.batch, func() (registry.Batch, error) { return r.store.Batch(ctx, g, s.batch.ID) })
	same(t, "batch by its text", s.batch, func() (registry.Batch, error) {
		return r.store.BatchKeyed(ctx, g, s.batch.ProductID, registry.FoldBatch("x 0001"))
	})
	same(t, "product", s.adhesive, func() (registry.Product, error) { return r.store.Product(ctx, g, s.adhesive.ID) })
	same(t, "uses", 1, func() (int, error) { return r.store.BatchUses(ctx, g, s.batch.ID) })
	same(t, "uses of no batch", 0, func() (int, error) { return r.store.BatchUses(ctx, g, sample.ID()) })
	if _, err := r.store.BatchKeyed(ctx, g, nil, s.batch.Key()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("batch of no product: %v, want not found", err)
	}
}

// Another group sees neither the batch nor how often it was used.
func TestBatchesOfAnotherGroup(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	other := sample.ID()
	if _, err := r.store.BatchKeyed(t.Context(), other, s.batch.ProductID, s.batch.Key()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("batch by its text in another group: %v, want not found", err)
	}
	same(t, "uses in another group", 0, func() (int, error) { return r.store.BatchUses(t.Context(), other, s.batch.ID) })
}

// A batch is its product and the letters and digits of its text, also where the
// product is not known.
func TestBatchIdentity(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	unknown := sample.Batch(s.adhesive, func(b *registry.Batch) { b.ProductID, b.Text = nil, "L1709-A" })
	if err := r.write(t, registry.Change{Batches: []registry.Batch{unknown}}); err != nil {
		t.Fatal(err)
	}
	for _, again := range []registry.Batch{
		sample.Batch(s.adhesive, func(b *registry.Batch) { b.Text = " x 0001" }),
		sample.Batch(s.adhesive, func(b *registry.Batch) { b.ProductID, b.Text = nil, "l 1709 a" }),
	} {
		err := r.write(t, registry.Change{Batches: []registry.Batch{again}})
		if fault.KindOf(err) != fault.Conflict || fault.CodeOf(err) != fault.Duplicate {
			t.Errorf("batch %q again: %v, want a duplicate", again.Text, err)
		}
	}
}
