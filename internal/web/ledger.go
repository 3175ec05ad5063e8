package web

import (
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// sealsShown is how many seals the page lists.
const sealsShown = 50

// ledgerPage shows the seals and, when asked, whether the ledger holds.
type ledgerPage struct {
	*form
	Frame   frame
	Path    string
	Lag     string
	Seals   []sealLine
	Checked bool
	OK      bool
	Summary string
	Faults  []string

	MayHold, MayErase bool // whether whoever asks may open those pages
}

// sealLine is one seal.
type sealLine struct{ Name, At, Entries, Hash string }

func (p *Pages) ledger(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	seals, lag, err := p.service.Seals(ctx, who, registry.SealPage{Limit: sealsShown})
	if err != nil {
		return err
	}
	page := ledgerPage{Frame: p.framed(c, "Ledger"), Lag: wording.SealLag(lag), form: &form{Values: c.QueryParams()}}
	page.Path = page.Frame.Base + "/ledger"
	page.MayHold, page.MayErase = allowed(c, app.ListLegalHolds), allowed(c, app.ErasePerson)
	for _, s := range seals {
		page.Seals = append(page.Seals, newSealLine(s))
	}
	if page.text("verify") == "" {
		return ok(c, ledgerView(page))
	}
	check, err := p.service.VerifyLedger(ctx, who, page.text("seal"))
	page.err = err
	if _, err := page.reject(err); err != nil {
		return err
	}
	if page.err == nil {
		page.Checked, page.OK, page.Summary = true, check.OK(), wording.LedgerCheck(check)+" "+wording.LedgerNotProved
		for _, f := range check.Faults {
			page.Faults = append(page.Faults, wording.LedgerFault(f))
		}
	}
	return render(c, page.status(), ledgerView(page))
}

func newSealLine(s registry.Seal) sealLine {
	return sealLine{
		Name: wording.SealName(s.Era, s.Number), At: s.At.UTC().Format("2 January 2006 15:04 UTC"),
		Entries: wording.Entries(s.Entries), Hash: s.Hash,
	}
}
