package corrosion

// WarningCode names one reason to doubt an estimate.
type WarningCode string

// The warnings.
const (
	TemperatureOutside    WarningCode = "temperature-outside-model"
	HumidityOutside       WarningCode = "humidity-outside-model"
	SulphurDioxideOutside WarningCode = "sulphur-dioxide-outside-model"
	ChlorideOutside       WarningCode = "chloride-outside-model"
	// NoDeposition: neither sulphur dioxide nor chloride; the equations would
	// give no loss at all, which is no answer.
	NoDeposition WarningCode = "no-deposition"
	// YearsOutside: more years than the standard's table of multipliers holds.
	YearsOutside WarningCode = "years-outside-model"
)

// Treatment says what was done with a value outside the range of a model.
type Treatment string

// The treatments.
const (
	Clamped      Treatment = "clamped"      // the nearest value inside was used
	Extrapolated Treatment = "extrapolated" // it was used as it is
)

// Warning is one value outside the range of a model.
type Warning struct {
	Code  WarningCode
	Field string
	// Value was given, Used went into the equation. Unit: that of the field.
	Value, Used float64
	// Low and High are the limits of the model, both included.
	Low, High float64
	Treatment Treatment
}

// Fitted returns the climate to put into the equations, and one warning for
// each value outside the range they were fitted in,
//
//	-17.1 to 28.7 degrees Celsius, 34 to 93 % relative humidity,
//	0.7 to 150.4 mg/(m2 day) sulphur dioxide, 0.4 to 760.5 mg/(m2 day) chloride.
//
// Temperature, humidity and depositions below the range are clamped to its
// limit. A deposition above the range is kept, extrapolated, as clamping it
// would understate the loss. Without any deposition there is one more warning,
// NoDeposition, and the estimate is that of the lower limits.
//
// A cave, at about 100 % relative humidity, is outside the range; see Cave.
//
// Source: ISO 9223:2012, Table 3. What is done outside is judgement of this
// project.
func (c Climate) Fitted() (Climate, []Warning) {
	var warnings []Warning
	none := c.SulphurDioxide == 0 && c.Chloride == 0
	for i := range parts {
		p := &parts[i]
		x := p.of(&c)
		if p.fitted.contains(*x) {
			continue
		}
		w := Warning{Code: p.code, Field: p.field, Value: *x, Low: p.fitted.low, High: p.fitted.high}
		w.Used, w.Treatment = min(max(*x, w.Low), w.High), Clamped
		if *x > w.High && p.deposition() {
			w.Used, w.Treatment = *x, Extrapolated
		}
		warnings, *x = append(warnings, w), w.Used
	}
	if none {
		warnings = append(warnings, Warning{Code: NoDeposition, Treatment: Clamped})
	}
	return c, warnings
}

func (p *part) deposition() bool {
	return p.field == FieldSulphurDioxide || p.field == FieldChloride
}
