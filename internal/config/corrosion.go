package config

// Corrosion estimates what a climate does to metal in the open: yearly means,
// as ISO 9223 has them.
type Corrosion struct {
	Temperature    float64  `required:"" placeholder:"DEGC" help:"Of the air, degrees Celsius."`
	Humidity       float64  `required:"" placeholder:"PERCENT" help:"Relative humidity, per cent."`
	SulphurDioxide float64  `required:"" placeholder:"MG" help:"Deposition of sulphur dioxide, mg/(m2 day)."`
	Chloride       float64  `required:"" placeholder:"MG" help:"Deposition of chloride, mg/(m2 day), wet candle."`
	Years          *float64 `placeholder:"N" help:"Also the depth lost after so many years."`
	Format         string   `enum:"text,json" default:"text" help:"text or json."`
}
