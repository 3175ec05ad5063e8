package assess

import (
	"rockledger/internal/corrosion"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// traits are what the exposure of a grade rests on, wherever it sits.
type traits struct {
	kind     int             // bit of its kind, see kinds
	concern  int             // bit of its concern, see concerns
	material int             // bit of its group in the anodic index; 0: none
	class    corrosion.Class // 0: none
	lasts    bool            // underground
	notKnown string          // row of the house rules, environment not known
}

// traitsOf holds every grade of the table of metals.
var traitsOf = func() map[metal.Grade]traits {
	all := make(map[metal.Grade]traits)
	for _, e := range metal.All() {
		class, _ := corrosion.ClassOf(e.Grade)
		all[e.Grade] = traits{
			kind: 1 << kindOf(e), concern: 1 << concernOf(e.Grade), material: materialBit(e.Grade),
			class: class, lasts: corrosion.LastsUnderground(e.Grade), notKnown: houserules.MetalRow(e.Grade),
		}
	}
	return all
}()

// The kinds of metal, in the order of registry.MetalKinds.
const (
	titanium = iota
	stainless
	coatedSteel
	bareSteel
	aluminium
	kindCount
)

func kindOf(e metal.Entry) int {
	switch {
	case e.Family == metal.TitaniumFamily:
		return titanium
	case e.Family == metal.AluminiumFamily:
		return aluminium
	case e.Grade == metal.SteelBare:
		return bareSteel
	case e.Family == metal.CarbonSteel:
		return coatedSteel
	}
	return stainless
}

// concernWords are the concerns in the order of their bits.
var concernWords = []string{
	string(corrosion.Concerned), string(corrosion.ExpertNeeded), string(corrosion.NotConcerned),
}

func concernOf(g metal.Grade) int {
	switch corrosion.ConcernOf(g) {
	case corrosion.Concerned:
		return 0
	case corrosion.ExpertNeeded:
		return 1
	}
	return 2
}

// kindsOf and concernsOf hold the words of every combination of bits, so that
// none is put together for each anchor.
var (
	kindsOf    = combinations(registry.MetalKinds())
	concernsOf = combinations(concernWords)
)

func combinations(words []string) [][]string {
	all := make([][]string, 1<<len(words))
	for bits := range all {
		for i, w := range words {
			if bits&(1<<i) != 0 {
				all[bits] = append(all[bits], w)
			}
		}
	}
	return all
}
