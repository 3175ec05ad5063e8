package metal

import "sync"

// Families of marks. A2 and A4 after ISO 3506-1 (304 and 316 family; members
// from memory); A8 and 6Mo the austenitic steels with 6 % molybdenum; HCR, high
// corrosion resistance, the class V austenitic steels of EN 1993-1-4.
var (
	family304 = NewSet("1.4301", "1.4303", "1.4306", "1.4307", "1.4541", "1.4567")
	family316 = NewSet("1.4401", "1.4404", "1.4432", "1.4435", "1.4436", "1.4571", "1.4578")
	sixMoly   = NewSet("1.4529", "1.4547")
	highlyRes = NewSet("1.4529", "1.4547", "1.4565")
)

var titaniumGrades = map[string]Grade{"gr1": Titanium1, "gr2": Titanium2, "gr5": Titanium5}

// fillers say nothing of the metal.
var fillers = []string{"grade", "type", "aisi", "en", "din", "iso", "uns", "astm", "or", "and", "bright", "yellow", "passivated", "coated", "coating", "finish", "alloy"}

// vocabulary returns what each word can mean. A word with several meanings has
// the set of all.
var vocabulary = sync.OnceValue(func() map[string]Set {
	zinc := NewSet(SteelElectroplated, SteelHotDipGalvanised, SteelSherardised)
	words := map[string]Set{
		"a2": family304, "a4": family316, "a8": sixMoly, "6mo": sixMoly, "hcr": highlyRes,
		"d6": NewSet("1.4462"), "d8": NewSet("1.4410"),
		"duplex": Of(Duplex), "superduplex": NewSet("1.4410", "1.4501", "1.4507"),
		"leanduplex": NewSet("1.4062", "1.4162", "1.4362", "1.4482", "1.4662"),
		"zinc":       zinc, "zn": zinc,
		"galv": NewSet(SteelElectroplated, SteelHotDipGalvanised),
		"bare": NewSet(SteelBare),
	}
	for _, same := range []struct {
		set   Set
		words []string
	}{
		{Stainless(), []string{"stainless", "ss", "inox", "sst"}},
		{Of(Austenitic), []string{"austenitic"}},
		{Of(TitaniumFamily), []string{"ti", "titanium"}},
		{NewSet(Titanium5), []string{"ti5"}},
		{NewSet(Aluminium), []string{"alu", "aluminium", "aluminum"}}, //nolint:misspell // people write it so
		{NewSet(SteelElectroplated), []string{"bzp", "zp", "plated", "pl", "electro", "electroplated", "electroplate"}},
		{NewSet(SteelHotDipGalvanised), []string{"hdg", "hotdip"}},
		{NewSet(SteelSherardised), []string{"sherardised", "sherardized"}},
		{words["galv"], []string{"galvanised", "galvanized", "galvd"}}, //nolint:misspell // people write it so
		{words["bare"], []string{"uncoated"}},
	} {
		for _, w := range same.words {
			words[w] = same.set
		}
	}
	for w, g := range numbers {
		words[w] = NewSet(g)
	}
	return words
})

// numbers are AISI and UNS numbers and trade numbers. 304L is 1.4307 here, by
// far the more usual of the two it can be (1.4306 is the other), as 316 and
// 316L are the variants with less molybdenum.
var numbers = map[string]Grade{
	"304": "1.4301", "304l": "1.4307", "304ln": "1.4311", "304cu": "1.4567", "305": "1.4303", "321": "1.4541",
	"301ln": "1.4318", "316": "1.4401", "316l": "1.4404", "316ln": "1.4429", "316ti": "1.4571", "316cu": "1.4578", "317lmn": "1.4439",
	"904l": "1.4539", "2101": "1.4162", "2202": "1.4062", "2205": "1.4462", "2304": "1.4362", "2404": "1.4662", "2507": "1.4410",
	"409": "1.4512", "430": "1.4016",
	"s30400": "1.4301", "s30403": "1.4307", "s31600": "1.4401", "s31603": "1.4404", "s31635": "1.4571", "s32100": "1.4541",
	"n08904": "1.4539", "n08926": "1.4529", "s31254": "1.4547", "s34565": "1.4565",
	"s31803": "1.4462", "s32205": "1.4462", "s32304": "1.4362", "s32101": "1.4162", "s32750": "1.4410", "s32760": "1.4501",
	"r50250": Titanium1, "r50400": Titanium2, "r56400": Titanium5,
}
