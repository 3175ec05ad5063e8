package config

// Ready asks a running service whether it can answer.
type Ready struct {
	Addr string `default:"127.0.0.1:8080" help:"Address it listens on."`
}
