package postgres

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/ledger"
	"rockledger/internal/registry"
)

var importHolding = held[importRow]{
	name: imports.name, selectSQL: imports.selectSQL, key: "id", id: func(r importRow) uuid.UUID { return r.ID }, reads: allOfID, audit: auditImport,
}

// importText is what an entry of an import, or of a piece of one, says.
type importText struct {
	Lines    string `json:"lines"` // empty in entries of earlier versions: of all rows
	Rows     int    `json:"rows"`
	RowsHash string `json:"rows_hash"`
	TextHash string `json:"text_hash"` // empty in pieces, and in entries of earlier versions
}

// auditImport compares an import and its rows with what was noted when it, and
// each piece of it, was entered, the newest first.
func auditImport(ctx context.Context, v *verifier, id uuid.UUID, said []saidRow, stored []importRow) error {
	trouble := func(t registry.LedgerTrouble, entry int64, fields ...string) {
		v.fault(registry.LedgerFault{Trouble: t, Noun: imports.name, RowID: &id, Entry: entry, Fields: fields})
	}
	if len(stored) == 0 {
		trouble(registry.RowMissing, said[len(said)-1].ID)
		return nil
	}
	if len(said) == 0 {
		trouble(registry.RowExtra, 0)
		return nil
	}
	rows := 0
	for _, l := range said {
		fields, n, err := auditPart(ctx, v, stored[0], l)
		if fault.KindOf(err) == fault.Invalid && err != nil {
			trouble(registry.EntryChanged, l.ID)
			continue
		}
		if err != nil {
			return err
		}
		if rows += n; len(fields) > 0 {
			trouble(registry.RowChanged, l.ID, fields...)
		}
	}
	var there rowCountRow
	err := v.ask(ctx, "count rows of import", func(b *pgx.Batch) {
		one(b, &there, selectCountRows, pgx.StrictNamedArgs{"import_id": id})
	})
	if err == nil && there.N != rows {
		trouble(registry.RowChanged, said[0].ID, "rows")
	}
	return err
}

type rowCountRow struct {
	N int `json:"n"`
}

const selectCountRows = `SELECT count(*) AS n FROM import_row AS t WHERE t.import_id = @import_id`

// auditPart compares one entry, and returns what differs and how many rows it
// speaks of.
func auditPart(ctx context.Context, v *verifier, r importRow, l saidRow) (fields []string, rows int, err error) {
	var said importText
	if err := json.Unmarshal([]byte(l.Text), &said); err != nil {
		return nil, 0, fault.New(fault.Invalid, "entry of an import is no JSON object")
	}
	text, err := ledger.Canonical(r)
	if err != nil {
		return nil, 0, err
	}
	if said.TextHash != "" && said.TextHash != hexHash([]byte(text)) {
		fields = append(fields, "text_hash")
	}
	if said.Rows == 0 {
		return fields, 0, nil
	}
	hash, err := hashRows(ctx, v, r.ID, said.Lines)
	if err == nil && hash != said.RowsHash {
		fields = append(fields, "rows_hash")
	}
	return fields, said.Rows, err
}

const whereLines = `
WHERE t.import_id = @import_id AND t.line > @after AND t.line BETWEEN @from AND @to
ORDER BY t.line
LIMIT @max_rows`

// hashRows is the hash over an import's rows of the given lines.
func hashRows(ctx context.Context, v *verifier, id uuid.UUID, lines string) (string, error) {
	sum := sha256.New()
	if lines == "" {
		lines = "0-" + strconv.Itoa(maxLine)
	}
	for part := range strings.SplitSeq(lines, ",") {
		first, last, err := rangeOf(part)
		if err != nil {
			return "", err
		}
		args := pgx.StrictNamedArgs{"import_id": id, "after": -1, "from": first, "to": last}
		next := stream(ctx, v, importRows.selectSQL+whereLines, args, func(r importedTableRow) { args["after"] = r.Line })
		for {
			row, ok, err := next()
			if err != nil {
				return "", err
			}
			if !ok {
				break
			}
			text, err := ledger.Canonical(row)
			if err != nil {
				return "", err
			}
			sum.Write([]byte(text + "\n"))
		}
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// maxLine is the most that the column of lines holds.
const maxLine = 1<<31 - 1

// rangeOf reads a part of what lineRanges writes; otherwise fault.Invalid.
func rangeOf(part string) (first, last int, err error) {
	from, to, ok := strings.Cut(part, "-")
	if !ok {
		to = from
	}
	first, err = strconv.Atoi(from)
	if err == nil {
		last, err = strconv.Atoi(to)
	}
	if err != nil || first < 0 || last > maxLine {
		return 0, 0, fault.New(fault.Invalid, "lines %q of an import cannot be read", part)
	}
	return first, last, nil
}
