package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"rockledger/api"
	"rockledger/internal/config"
	"rockledger/internal/httpapi"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ledgerDocument is what verifying says of one group or more. With a seal it is
// enough that one of them has it.
type ledgerDocument struct {
	OK       bool                `json:"ok"`
	Seals    int                 `json:"seals"`
	Rows     int                 `json:"rows"`
	Unsealed int                 `json:"unsealed"`
	Faults   []ledgerFaultOf     `json:"faults"`
	LeftOut  int                 `json:"left_out,omitempty"`
	Seal     *api.Seal           `json:"seal,omitempty"`
	Missing  bool                `json:"seal_missing,omitempty"`
	Beyond   []string            `json:"not_covered"`
	Groups   []ledgerDocumentRow `json:"groups"`
}

type ledgerFaultOf struct {
	Group string `json:"group"`
	api.LedgerFault
}

type ledgerDocumentRow struct {
	Group    string `json:"group"`
	OK       bool   `json:"ok"`
	Seals    int    `json:"seals"`
	Rows     int    `json:"rows"`
	Unsealed int    `json:"unsealed"`
}

var errLedgerFaulty = errors.New("the ledger does not hold: see what is named")

func runLedgerVerify(ctx context.Context, c config.LedgerVerify, stdout io.Writer) error {
	r, err := openRegister(ctx, c.DatabaseURL)
	if err != nil {
		return err
	}
	defer r.pool.Close()
	groups, err := groupsOf(ctx, r, c.Group)
	if err != nil {
		return err
	}
	doc := ledgerDocument{OK: true, Faults: []ledgerFaultOf{}, Groups: []ledgerDocumentRow{}, Missing: c.Seal != "", Beyond: registry.NotProved()}
	for _, g := range groups {
		check, err := r.service.VerifyLedger(ctx, actorOf(g), c.Seal)
		if err != nil {
			return fmt.Errorf("verify the ledger of %s: %w", g.Slug, err)
		}
		doc.add(g, check)
		if c.Format == "text" {
			if err := printLedgerCheck(stdout, g, check); err != nil {
				return err
			}
		}
	}
	doc.OK = doc.OK && !doc.Missing
	if c.Format == "text" {
		last := wording.LedgerNotProved
		if !doc.OK {
			last = wording.LedgerFirst + "\n" + last
		}
		if _, err := fmt.Fprintln(stdout, last); err != nil {
			return fmt.Errorf("write what was found: %w", err)
		}
	}
	if c.Format == "json" {
		if err := printJSON(stdout, doc); err != nil {
			return err
		}
	}
	if !doc.OK {
		return errLedgerFaulty
	}
	return nil
}

// groupsOf lists the group that is named, or all.
func groupsOf(ctx context.Context, r *register, slug string) ([]registry.Group, error) {
	if slug == "" {
		return r.store.Groups(ctx)
	}
	g, err := groupOf(ctx, r.store, slug)
	return []registry.Group{g}, err
}

func (d *ledgerDocument) add(g registry.Group, check registry.LedgerCheck) {
	one := httpapi.LedgerCheckDocument(check)
	sound := len(check.Faults) == 0
	d.OK = d.OK && sound
	d.Seals, d.Rows, d.Unsealed, d.LeftOut = d.Seals+one.Seals, d.Rows+one.Rows, d.Unsealed+one.Unsealed, d.LeftOut+one.LeftOut
	d.Groups = append(d.Groups, ledgerDocumentRow{g.Slug, sound, one.Seals, one.Rows, one.Unsealed})
	for _, f := range one.Faults {
		d.Faults = append(d.Faults, ledgerFaultOf{g.Slug, f})
	}
	if check.Found != nil {
		d.Seal, d.Missing = &one.Seal, false
	}
}

func printLedgerCheck(w io.Writer, g registry.Group, check registry.LedgerCheck) error {
	if _, err := fmt.Fprintf(w, "%s: %s\n", g.Slug, wording.LedgerCheck(check)); err != nil {
		return fmt.Errorf("write what was found: %w", err)
	}
	for _, f := range check.Faults {
		if _, err := fmt.Fprintf(w, "  %s\n", wording.LedgerFault(f)); err != nil {
			return fmt.Errorf("write what was found: %w", err)
		}
	}
	return nil
}

func runLedgerSeal(ctx context.Context, c config.LedgerSeal, stdout io.Writer) error {
	r, err := openRegister(ctx, c.DatabaseURL)
	if err != nil {
		return err
	}
	defer r.pool.Close()
	made, err := r.service.SealLedgers(ctx)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(stdout, "seals made: %d\n", made)
	return err
}

func runLedgerNewEra(ctx context.Context, c config.LedgerNewEra, stdout io.Writer) error {
	pool, err := postgres.Connect(ctx, c.AdminURL)
	if err != nil {
		return err
	}
	defer pool.Close()
	era, err := postgres.NewAdmin(pool).As(systemUser()).RaiseEra(ctx, c.Why)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(stdout, "era %d of the ledger begins\n", era)
	return err
}
