package corrosion

import (
	"math"
	"strconv"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// Climate is the yearly mean of an atmosphere in the open.
type Climate struct {
	Temperature    quantity.Temperature // of the air, degrees Celsius
	Humidity       float64              // relative, per cent
	SulphurDioxide float64              // deposition, mg/(m2 day)
	Chloride       float64              // deposition, mg/(m2 day), wet candle; see WetCandle
}

// Names of the fields of a climate, as violations and warnings carry them.
const (
	FieldTemperature    = "temperature_c"
	FieldHumidity       = "humidity_pct"
	FieldSulphurDioxide = "sulphur_dioxide_mg_per_m2_day"
	FieldChloride       = "chloride_mg_per_m2_day"
)

// span is an interval with both ends.
type span struct{ low, high float64 }

func (s span) contains(x float64) bool { return s.low <= x && x <= s.high }

// part is one of the four values of a climate.
type part struct {
	field string
	code  WarningCode
	// possible are the limits beyond which the value is taken for a mistake:
	// -90 to 60 degrees were measured on earth, rounded; 10 000 mg/(m2 day) is
	// far above the classes of ISO 9223 (judgement of this project).
	possible span
	// fitted is the range the equations were fitted in: ISO 9223:2012, Table 3.
	fitted span
	of     func(*Climate) *float64
}

var parts = [...]part{
	{
		FieldTemperature, TemperatureOutside,
		span{-90, 60},
		span{-17.1, 28.7},
		func(c *Climate) *float64 { return (*float64)(&c.Temperature) },
	},
	{
		FieldHumidity, HumidityOutside,
		span{0, 100},
		span{34, 93},
		func(c *Climate) *float64 { return &c.Humidity },
	},
	{
		FieldSulphurDioxide, SulphurDioxideOutside,
		span{0, 10_000},
		span{0.7, 150.4},
		func(c *Climate) *float64 { return &c.SulphurDioxide },
	},
	{
		FieldChloride, ChlorideOutside,
		span{0, 10_000},
		span{0.4, 760.5},
		func(c *Climate) *float64 { return &c.Chloride },
	},
}

// Validate reports every value that no atmosphere has: not a number, a negative
// deposition or humidity, more than 100 % of humidity, and values far beyond
// what was ever measured. A value that only lies outside the range of the
// equations is no violation; see Fitted.
func (c Climate) Validate() error {
	var checks fault.Checks
	for i := range parts {
		p := &parts[i]
		checkNumber(&checks, p.field, *p.of(&c), p.possible)
	}
	return checks.Err()
}

// checkNumber adds at most one violation of field.
func checkNumber(c *fault.Checks, field string, x float64, possible span) {
	switch {
	case math.IsNaN(x):
		c.Require(false, field, fault.NotANumber)
	case x < 0 && possible.low == 0:
		c.Require(false, field, fault.Negative)
	case !possible.contains(x):
		c.Require(false, field, fault.OutOfRange, "min", decimal(possible.low), "max", decimal(possible.high))
	}
}

// decimal writes a number as briefly as it can be read back, without exponent.
func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
