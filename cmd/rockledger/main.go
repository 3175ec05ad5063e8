// Command rockledger keeps a register of fixed anchors in crags and caves.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
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
		"ready":     func() error { return runReady(ctx, c.Ready, stdout) },
		"migrate":   func() error { return runMigrate(ctx, c.Migrate, stdout) },
		"group add": func() error { return runGroupAdd(ctx, c.Group.Add, stdout) },
		"token add": func() error { return runTokenAdd(ctx, c.Token.Add, stdout) },
		"import":    func() error { return runImport(ctx, c.Import, stdout, stderr) },
		"bench":     func() error { return runBench(ctx, c.Bench, stdout, stderr) },
		"trace":     func() error { return runTrace(ctx, c.Trace, stdout) },
		"export":    func() error { return runExport(ctx, c.Export, stdout, stderr) },
		"evidence":  func() error { return runEvidence(ctx, c.Evidence, stdout) },
		"corrosion": func() error { return runCorrosion(c.Corrosion, stdout) },
		"mortar":    func() error { return runMortar(c.Mortar, stdout) },

		"account add":      func() error { return runAccountAdd(ctx, c.Account.Add, os.Stdin, stdout) },
		"account list":     func() error { return runAccountList(ctx, c.Account.List, stdout) },
		"account role":     func() error { return runAccountRole(ctx, c.Account.Role, stdout) },
		"account password": func() error { return runAccountPassword(ctx, c.Account.Password, os.Stdin, stdout) },
		"account remove":   func() error { return runAccountRemove(ctx, c.Account.Remove, stdout) },

		"person erase":    func() error { return runPersonErase(ctx, c.Person.Erase, stdout) },
		"landowner erase": func() error { return runLandownerErase(ctx, c.Landowner.Erase, stdout) },
		"hold add":        func() error { return runHoldAdd(ctx, c.Hold.Add, stdout) },
		"hold lift":       func() error { return runHoldLift(ctx, c.Hold.Lift, stdout) },
		"hold list":       func() error { return runHoldList(ctx, c.Hold.List, stdout) },
		"ledger verify":   func() error { return runLedgerVerify(ctx, c.Ledger.Verify, stdout) },
		"ledger seal":     func() error { return runLedgerSeal(ctx, c.Ledger.Seal, stdout) },
		"ledger new-era":  func() error { return runLedgerNewEra(ctx, c.Ledger.NewEra, stdout) },

		"report overdue": func() error { return runOverdue(ctx, c.Report.Overdue, stdout) },
		"report suspect": func() error { return runSuspect(ctx, c.Report.Suspect, stdout) },
		"report work":    func() error { return runWork(ctx, c.Report.Work, stdout) },
		"report land":    func() error { return runLand(ctx, c.Report.Land, stdout) },
	}
	return commands[name]()
}

// explain turns an error into what a person can act on: what was being done and
// every violation with its remedy, each said once. What a database answered is
// told only where it is not understood.
func explain(err error) string {
	if errors.Is(err, context.Canceled) {
		return wording.BrokenOff
	}
	f, ok := fault.As(err)
	if ok && f.Kind == fault.Busy && len(f.Values) > 0 {
		return wording.Fault(f.Code, f.Values)
	}
	if !ok || f.Kind == fault.Internal || f.Kind == fault.Busy {
		return err.Error()
	}
	doing := strings.TrimSuffix(err.Error(), f.Error())
	switch {
	case len(f.Violations) == 1 && f.Values["in_the_way"] == "":
		return doing + violation(f.Violations[0])
	case len(f.Violations) > 0:
		text := doing + "this cannot be right:"
		if f.Values["in_the_way"] != "" {
			text = doing + wording.Fault(f.Code, f.Values)
		}
		for _, v := range f.Violations {
			text += "\n  " + violation(v)
		}
		return text
	case f.Kind == fault.TooLarge, f.Values["no_list"] != "":
		return doing + wording.Fault(f.Code, f.Values)
	}
	return doing + f.Msg
}

func violation(v fault.Violation) string { return v.Field + ": " + wording.Violation(v) }
