// Command rockledger keeps a register of fixed anchors in crags and caves.
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"

	"rockledger/internal/config"
	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "rockledger: "+explain(err))
		os.Exit(1) //nolint:gocritic // nothing is left to stop
	}
}

// run carries out one command line. It returns when the command is done or ctx
// ends.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) error {
	exited := false
	c, name, err := config.Parse(args, kong.Writers(stdout, stderr), kong.Exit(func(int) { exited = true }))
	if exited {
		return nil // help was asked for and printed
	}
	if err != nil {
		return err
	}
	commands := map[string]func() error{
		"demo":      func() error { return runDemo(ctx, c.Demo, stdout, stderr) },
		"serve":     func() error { return runServe(ctx, c.Serve, stdout, stderr) },
		"migrate":   func() error { return runMigrate(ctx, c.Migrate, stdout) },
		"group add": func() error { return runGroupAdd(ctx, c.Group.Add, stdout) },
		"token add": func() error { return runTokenAdd(ctx, c.Token.Add, stdout) },
		"import":    func() error { return runImport(ctx, c.Import, stdout) },
		"report":    func() error { return runReport(ctx, c.Report, stdout) },
	}
	return commands[name]()
}

// explain turns an error into what a person can act on: every violation with
// its remedy, and otherwise the error's own words.
func explain(err error) string {
	f, ok := fault.As(err)
	if !ok || len(f.Violations) == 0 {
		return err.Error()
	}
	text := err.Error()
	for _, v := range f.Violations {
		text += "\n  " + v.Field + ": " + wording.Violation(v)
	}
	return text
}
