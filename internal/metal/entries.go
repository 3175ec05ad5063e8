package metal

const (
	en10088 = "EN 10088-1/-2/-3:2014"
	astmTi  = "ASTM B265"
)

// entries is the table of grades. CRC from EN 1993-1-4:2006+A1:2015, Table A.3,
// from memory. Compositions: chromium of 1.4301 and molybdenum of 1.4401 seen
// in notes on EN 10088-2; 1.4462, 1.4539, 1.4547 and 1.4529 seen in open
// material data; the others from memory. Names from memory where the
// composition is. Where the standard sets no limit for an element that is not
// added on purpose (molybdenum of 304) the range is 0; nitrogen of the titanium
// stabilised grades has no limit, and so no range.
var entries = []Entry{
	{
		Grade: "1.4301", Family: Austenitic, CommonNames: []string{"304"}, CRC: 2,
		Cr: &Range{17.5, 19.5}, Ni: &Range{8, 10.5}, Mo: &Range{0, 0}, N: &Range{0, 0.10},
		Other:  []Limit{{"C", Range{0, 0.07}}},
		Source: en10088, Confidence: Partly,
	},
	{
		Grade: "1.4303", Family: Austenitic, CommonNames: []string{"305"},
		Cr: &Range{17, 19}, Ni: &Range{11, 13}, Mo: &Range{0, 0}, N: &Range{0, 0.10},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4306", Family: Austenitic, CommonNames: []string{"304L"}, CRC: 2,
		Cr: &Range{18, 20}, Ni: &Range{10, 12}, Mo: &Range{0, 0}, N: &Range{0, 0.10},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4307", Family: Austenitic, CommonNames: []string{"304L"}, CRC: 2,
		Cr: &Range{17.5, 19.5}, Ni: &Range{8, 10.5}, Mo: &Range{0, 0}, N: &Range{0, 0.10},
		Other:  []Limit{{"C", Range{0, 0.03}}},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4311", Family: Austenitic, CommonNames: []string{"304LN"}, CRC: 2,
		Cr: &Range{17.5, 19.5}, Ni: &Range{8.5, 11.5}, Mo: &Range{0, 0}, N: &Range{0.12, 0.22},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4318", Family: Austenitic, CommonNames: []string{"301LN"}, CRC: 2,
		Cr: &Range{16.5, 18.5}, Ni: &Range{6, 8}, Mo: &Range{0, 0}, N: &Range{0.10, 0.20},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4541", Family: Austenitic, CommonNames: []string{"321"}, CRC: 2,
		Cr: &Range{17, 19}, Ni: &Range{9, 12}, Mo: &Range{0, 0},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4567", Family: Austenitic, CommonNames: []string{"304Cu"}, CRC: 2,
		Cr: &Range{17, 19}, Ni: &Range{8.5, 10.5}, Mo: &Range{0, 0}, N: &Range{0, 0.10},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4401", Family: Austenitic, CommonNames: []string{"316"}, CRC: 3,
		Cr: &Range{16.5, 18.5}, Ni: &Range{10, 13}, Mo: &Range{2, 2.5}, N: &Range{0, 0.10},
		Other:  []Limit{{"C", Range{0, 0.07}}},
		Source: en10088, Confidence: Partly,
	},
	{
		Grade: "1.4404", Family: Austenitic, CommonNames: []string{"316L"}, CRC: 3,
		Cr: &Range{16.5, 18.5}, Ni: &Range{10, 13}, Mo: &Range{2, 2.5}, N: &Range{0, 0.10},
		Other:  []Limit{{"C", Range{0, 0.03}}},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4429", Family: Austenitic, CommonNames: []string{"316LN"}, CRC: 3,
		Cr: &Range{16.5, 18.5}, Ni: &Range{11, 14}, Mo: &Range{2.5, 3}, N: &Range{0.12, 0.22},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4432", Family: Austenitic, CommonNames: []string{"316L, 2.5 Mo"}, CRC: 3,
		Cr: &Range{16.5, 18.5}, Ni: &Range{10.5, 13}, Mo: &Range{2.5, 3}, N: &Range{0, 0.10},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4435", Family: Austenitic, CommonNames: []string{"316L, 2.5 Mo"}, CRC: 3,
		Cr: &Range{17, 19}, Ni: &Range{12.5, 15}, Mo: &Range{2.5, 3}, N: &Range{0, 0.10},
		Other:  []Limit{{"C", Range{0, 0.03}}},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4436", Family: Austenitic, CommonNames: []string{"316, 2.5 Mo"},
		Cr: &Range{16.5, 18.5}, Ni: &Range{10.5, 13}, Mo: &Range{2.5, 3}, N: &Range{0, 0.10},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4571", Family: Austenitic, CommonNames: []string{"316Ti"}, CRC: 3,
		Cr: &Range{16.5, 18.5}, Ni: &Range{10.5, 13.5}, Mo: &Range{2, 2.5},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4578", Family: Austenitic, CommonNames: []string{"316Cu"}, CRC: 3,
		Cr: &Range{16.5, 17.5}, Ni: &Range{10, 11}, Mo: &Range{2, 2.5}, N: &Range{0, 0.10},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4439", Family: Austenitic, CommonNames: []string{"317LMN"}, CRC: 4,
		Cr: &Range{16.5, 18.5}, Ni: &Range{12.5, 14.5}, Mo: &Range{4, 5}, N: &Range{0.12, 0.22},
		Source: en10088, Confidence: Memory,
	},

	{
		Grade: "1.4539", Family: SuperAustenitic, CommonNames: []string{"904L"}, CRC: 4,
		Cr: &Range{19, 21}, Ni: &Range{24, 26}, Mo: &Range{4, 5}, N: &Range{0, 0.15},
		Other:  []Limit{{"C", Range{0, 0.02}}, {"Cu", Range{1.2, 2}}},
		Source: en10088, Confidence: Found,
	},
	{
		Grade: "1.4529", Family: SuperAustenitic, CommonNames: []string{"6Mo", "N08926"}, CRC: 5,
		Cr: &Range{19, 21}, Ni: &Range{24, 26}, Mo: &Range{6, 7}, N: &Range{0.15, 0.25},
		Other:  []Limit{{"C", Range{0, 0.02}}, {"Cu", Range{0.5, 1.5}}},
		Source: en10088, Confidence: Found,
	},
	{
		Grade: "1.4547", Family: SuperAustenitic, CommonNames: []string{"6Mo", "S31254"}, CRC: 5,
		Cr: &Range{19.5, 20.5}, Ni: &Range{17.5, 18.5}, Mo: &Range{6, 7}, N: &Range{0.18, 0.25},
		Other:  []Limit{{"C", Range{0, 0.02}}, {"Cu", Range{0.5, 1}}},
		Source: en10088, Confidence: Found,
	},
	{
		Grade: "1.4565", Family: SuperAustenitic, CommonNames: []string{"S34565"}, CRC: 5,
		Cr: &Range{24, 26}, Ni: &Range{16, 19}, Mo: &Range{4, 5}, N: &Range{0.30, 0.60},
		Other:  []Limit{{"C", Range{0, 0.03}}, {"Mn", Range{5, 7}}},
		Source: en10088, Confidence: Memory,
	},

	{
		Grade: "1.4482", Family: Duplex, CommonNames: []string{"lean duplex"}, CRC: 2,
		Cr: &Range{19.5, 21.5}, Ni: &Range{1.5, 3.5}, Mo: &Range{0.1, 0.6}, N: &Range{0.05, 0.20},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4062", Family: Duplex, CommonNames: []string{"2202"}, CRC: 3,
		Cr: &Range{21.5, 24}, Ni: &Range{1, 2.9}, Mo: &Range{0, 0.45}, N: &Range{0.16, 0.28},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4162", Family: Duplex, CommonNames: []string{"2101"}, CRC: 3,
		Cr: &Range{21, 22}, Ni: &Range{1.35, 1.9}, Mo: &Range{0.1, 0.8}, N: &Range{0.20, 0.25},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4362", Family: Duplex, CommonNames: []string{"2304"}, CRC: 3,
		Cr: &Range{22, 24}, Ni: &Range{3.5, 5.5}, Mo: &Range{0.1, 0.6}, N: &Range{0.05, 0.20},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4662", Family: Duplex, CommonNames: []string{"2404"}, CRC: 3,
		Cr: &Range{23, 25}, Ni: &Range{3, 4.5}, Mo: &Range{1, 2}, N: &Range{0.20, 0.30},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4462", Family: Duplex, CommonNames: []string{"2205"}, CRC: 4,
		Cr: &Range{21, 23}, Ni: &Range{4.5, 6.5}, Mo: &Range{2.5, 3.5}, N: &Range{0.10, 0.22},
		Other:  []Limit{{"C", Range{0, 0.03}}},
		Source: en10088, Confidence: Found,
	},
	{
		Grade: "1.4410", Family: Duplex, CommonNames: []string{"2507"}, CRC: 5,
		Cr: &Range{24, 26}, Ni: &Range{6, 8}, Mo: &Range{3, 4.5}, N: &Range{0.24, 0.35},
		Other:  []Limit{{"C", Range{0, 0.03}}},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4501", Family: Duplex, CommonNames: []string{"S32760"}, CRC: 5,
		Cr: &Range{24, 26}, Ni: &Range{6, 8}, Mo: &Range{3, 4}, N: &Range{0.20, 0.30},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4507", Family: Duplex, CommonNames: []string{"S32520"}, CRC: 5,
		Cr: &Range{24, 26}, Ni: &Range{6, 8}, Mo: &Range{3, 4}, N: &Range{0.20, 0.30},
		Source: en10088, Confidence: Memory,
	},

	{
		Grade: "1.4003", Family: Ferritic, CommonNames: []string{"12 % chromium steel"}, CRC: 1,
		Cr: &Range{10.5, 12.5}, Ni: &Range{0.3, 1}, Mo: &Range{0, 0}, N: &Range{0, 0.03},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4016", Family: Ferritic, CommonNames: []string{"430"}, CRC: 1,
		Cr: &Range{16, 18}, Mo: &Range{0, 0},
		Source: en10088, Confidence: Memory,
	},
	{
		Grade: "1.4512", Family: Ferritic, CommonNames: []string{"409"}, CRC: 1,
		Cr: &Range{10.5, 12.5}, Mo: &Range{0, 0},
		Source: en10088, Confidence: Memory,
	},

	{Grade: Titanium1, Family: TitaniumFamily, CommonNames: []string{"titanium grade 1"}, Confidence: NoFigure},
	{
		Grade: Titanium2, Family: TitaniumFamily, CommonNames: []string{"titanium grade 2", "R50400"},
		N:      &Range{0, 0.03},
		Other:  []Limit{{"O", Range{0, 0.25}}, {"Fe", Range{0, 0.30}}, {"C", Range{0, 0.08}}, {"H", Range{0, 0.015}}},
		Source: astmTi, Confidence: Found,
	},
	{Grade: Titanium5, Family: TitaniumFamily, CommonNames: []string{"titanium grade 5", "Ti-6Al-4V"}, Source: astmTi, Confidence: Found},

	{Grade: SteelBare, Family: CarbonSteel, CommonNames: []string{"bare steel"}, Confidence: NoFigure},
	{Grade: SteelElectroplated, Family: CarbonSteel, CommonNames: []string{"zinc plated", "BZP"}, Confidence: NoFigure},
	{Grade: SteelHotDipGalvanised, Family: CarbonSteel, CommonNames: []string{"hot dip galvanised", "HDG"}, Confidence: NoFigure},
	{Grade: SteelSherardised, Family: CarbonSteel, CommonNames: []string{"sherardised"}, Confidence: NoFigure},

	{Grade: Aluminium, Family: AluminiumFamily, CommonNames: []string{"aluminium alloy"}, Confidence: NoFigure},
}
