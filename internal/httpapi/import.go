package httpapi

import (
	"context"
	"errors"
	"io"
	"mime/multipart"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// upload is an import's form as sent.
type upload struct {
	name   string
	file   []byte
	hasOne bool // a file was sent
	cols   []byte
	dryRun bool
}

// ImportList answers POST /v1/imports.
func (a *API) ImportList(ctx context.Context, r api.ImportListRequestObject) (api.ImportListResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	form, err := readUpload(r.Body)
	if err != nil {
		return nil, err
	}
	mapping, err := exchange.ParseMapping(form.cols)
	if err != nil {
		return nil, err
	}
	done, err := a.service.ReadAlone(ctx, len(form.file))
	if err != nil {
		return nil, err
	}
	defer done()
	return a.takeList(ctx, who, &form, mapping)
}

// takeList reads a list, then enters it or tries to; a long one waits for that.
func (a *API) takeList(ctx context.Context, who registry.Actor, form *upload, mapping exchange.Mapping) (api.ImportListResponseObject, error) {
	file := form.file
	form.file = nil // the text that is read is another: two of them and the rows would not fit into the memory there is
	list, err := exchange.ReadAnchorList(form.name, file, mapping, a.service.AsOf(who))
	if err != nil {
		return nil, err
	}
	if len(list.Rows) > app.MostAtOnce {
		return a.handIn(ctx, who, list, form.dryRun)
	}
	done, err := a.service.Import(ctx, who, list, form.dryRun)
	if err != nil {
		return nil, err
	}
	if done.ID == "" {
		return api.ImportList200JSONResponse(ImportDocument(done)), nil
	}
	return api.ImportList201JSONResponse(ImportDocument(done)), nil
}

// readUpload reads the form to its end, with every violation. The size of the
// whole is limited before.
func readUpload(form *multipart.Reader) (upload, error) {
	var (
		u upload
		c fault.Checks
	)
	for {
		part, err := form.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return u, bodyError(err)
		}
		data, err := io.ReadAll(part)
		if err != nil {
			return u, bodyError(err)
		}
		u.take(&c, part, data)
	}
	c.Require(u.hasOne, "file", fault.Required)
	c.Require(!u.hasOne || len(u.file) > 0, "file", fault.Blank)
	return u, c.Err()
}

func (u *upload) take(c *fault.Checks, part *multipart.Part, data []byte) {
	switch part.FormName() {
	case "file":
		c.Require(!u.hasOne, "file", fault.Duplicate)
		u.name, u.file, u.hasOne = part.FileName(), data, true
	case "columns":
		u.cols = data
	case "dry_run":
		dry := string(data)
		c.Require(dry == "true" || dry == "false", "dry_run", fault.Unknown, "allowed", "true, false")
		u.dryRun = dry != "false"
	default:
		c.Require(false, part.FormName(), fault.NotAllowed)
	}
}

// ImportDocument is the report as the API answers it.
func ImportDocument(r report.Import) api.ImportReport {
	out := api.ImportReport{
		DryRun: r.DryRun, FileName: r.FileName, Encoding: r.Encoding, Delimiter: r.Delimiter,
		Columns: each(r.Columns, func(c report.Column) api.ImportColumn {
			return api.ImportColumn{Heading: c.Heading, Field: c.Field}
		}),
		Rows: r.Rows, Entered: r.Entered, Changed: r.Changed, Clashes: r.Clashes, Successors: r.Successors, Duplicates: r.Duplicates,
		Blank: r.Blank, Refused: r.Refused, Unchanged: r.Unchanged, Proposals: r.Proposals,
		Doubts: each(r.Doubts, doubtOut), Refusals: each(r.Refusals, doubtOut),
		DuplicateRows: each(r.DuplicateRows, func(d report.Repeat) api.DuplicateRow {
			return api.DuplicateRow{Line: d.Line, Of: d.Of}
		}),
		ChangedCells: each(r.ChangedCells, func(c report.CellChange) api.CellChange {
			return api.CellChange{
				Line: c.Line, Column: c.Column, Field: c.Field, Place: c.Place, AnchorId: c.AnchorID, From: c.From, To: c.To,
			}
		}),
		ClashingCells: each(r.ClashingCells, clashOut),
		Totals:        totalsOut(r.Totals),
		Caution:       wording.Caution,
	}
	if id, err := uuid.Parse(r.ID); err == nil {
		out.Id = id
	}
	return out
}

func clashOut(c report.CellClash) api.CellClash {
	return api.CellClash{
		Line: c.Line, Column: c.Column, Field: c.Field, Place: c.Place, AnchorId: c.AnchorID, From: c.From, To: c.To,
		Register: c.Register, Text: sentence(wording.CellClash(c.From, c.To, c.Register)),
	}
}

func doubtOut(d registry.Doubt) api.Doubt {
	what, remedy := wording.Doubt(d)
	return api.Doubt{
		Line: d.Line, Column: d.Column, Text: d.Text, Code: d.Code, Values: valuesOut(d.Values),
		What: what, Remedy: remedy,
	}
}
