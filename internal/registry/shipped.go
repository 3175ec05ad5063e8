package registry

// ShippedProducts are the entries that each group's catalogue begins with, new
// and without ids. They stand for forms and chemistries only, none for a
// maker's product: no metal, no sheet, no cure time.
func ShippedProducts() []Product {
	shipped := func(kind ProductKind, name string) Product {
		return Product{Kind: kind, Name: name, Shipped: true}
	}
	hardware := func(f Form, name string) Product {
		p := shipped(Hardware, name)
		p.Form = f
		return p
	}
	adhesive := func(chemistry, name string) Product {
		p := shipped(Adhesive, name)
		p.Chemistry = chemistry
		return p
	}
	return []Product{
		hardware(SingleShank, "Generic single-shank glue-in, 10 mm"),
		hardware(SingleShank, "Generic single-shank glue-in, 12 mm"),
		hardware(TwistedLeg, "Generic twisted-leg glue-in"),
		hardware(Staple, "Generic staple, two holes"),
		hardware(BondedStud, "Generic threaded rod in resin, M10"),
		hardware(BondedStud, "Generic threaded rod in resin, M12"),
		hardware(ThroughBolt, "Generic through bolt, 10 mm"),
		hardware(ThroughBolt, "Generic through bolt, 12 mm"),
		hardware(SleeveAnchor, "Generic sleeve anchor"),
		hardware(ConcreteScrew, "Generic concrete screw"),
		hardware(SelfDrillSleeve, "Generic self-drill sleeve, M8"),
		adhesive("vinylester", "Generic vinylester cartridge (no sheet)"),
		adhesive("epoxy", "Generic pure epoxy cartridge (no sheet)"),
		adhesive("polyester", "Generic polyester cartridge (no sheet)"),
	}
}
