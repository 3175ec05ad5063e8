package config

// Trace prints where a batch went.
type Trace struct {
	ReportOptions
	Batch string `arg:"" help:"The batch, by what is printed on it or by its id."`
}
