package main

import (
	"io"

	"rockledger/internal/app"
	"rockledger/internal/config"
	"rockledger/internal/exchange"
	"rockledger/internal/httpapi"
	"rockledger/internal/report"
)

// runCorrosion estimates what a climate does to metal. It asks no database, so
// anybody at the command line may read it.
func runCorrosion(c config.Corrosion, stdout io.Writer) error {
	climate := report.Climate{
		TemperatureC: c.Temperature, HumidityPct: c.Humidity, SulphurDioxide: c.SulphurDioxide, Chloride: c.Chloride,
	}
	made, err := app.CorrosionOf(climate, c.Years)
	if err != nil {
		return err
	}
	if c.Format == "json" {
		return printJSON(stdout, httpapi.CorrosionDocument(made))
	}
	return exchange.WriteCorrosionText(stdout, made)
}
