package postgres

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/ledger"
	"rockledger/internal/registry"
)

type importRow struct {
	ID        uuid.UUID       `json:"id"`
	FileName  string          `json:"file_name"`
	FileHash  string          `json:"file_hash"`
	Headings  []string        `json:"headings"`
	Encoding  string          `json:"encoding"`
	Delimiter string          `json:"delimiter"`
	Report    json.RawMessage `json:"report"`
	At        time.Time       `json:"at"`
}

func newImportRow(i *registry.Import) importRow {
	return importRow{
		i.ID, i.FileName, i.FileHash, texts(i.Headings), i.Encoding, i.Delimiter, json.RawMessage(i.Report), instant(i.At),
	}
}

var imports = newTable[importRow]("import")

// importedTableRow is one remembered row of a list.
type importedTableRow struct {
	ImportID uuid.UUID         `json:"import_id"`
	Line     int               `json:"line"`
	Key      string            `json:"key"`
	Print    string            `json:"print"`
	Cells    []string          `json:"cells"`
	Taken    *registry.ListRow `json:"taken"`
	AnchorID uuid.UUID         `json:"anchor_id"`
	Changed  bool              `json:"changed"`
}

func newImportedTableRow(r registry.ImportRow) importedTableRow {
	return importedTableRow{r.ImportID, r.Line, r.Key, r.Print, texts(r.Cells), r.Taken, r.AnchorID, r.Changed}
}

var importRows = newTable[importedTableRow]("import_row")

// importEntry is what the ledger holds of an import: hashes instead of the
// cells and the report, which may name people. RowsHash is the SHA-256 over
// the canonical texts of its rows, one a line, in the order of Lines; TextHash
// that of its own. Entries of earlier versions have no lines, and a hash of the
// report as it was sent instead, which cannot be told from what is stored.
type importEntry struct {
	ID       uuid.UUID `json:"id"`
	FileHash string    `json:"file_hash"`
	Lines    string    `json:"lines"` // of the rows, as by lineRanges
	Rows     int       `json:"rows"`
	RowsHash string    `json:"rows_hash"`
	TextHash string    `json:"text_hash"`
}

// pieceEntry is what the ledger holds of a piece of a long list that is not its
// first: Pieces counts those entered.
type pieceEntry struct {
	ID         uuid.UUID `json:"id"`
	Pieces     int       `json:"pieces"`
	Lines      string    `json:"lines,omitempty"`
	Rows       int       `json:"rows,omitempty"` // of the piece
	RowsHash   string    `json:"rows_hash,omitempty"`
	ReportHash string    `json:"report_hash,omitempty"` // of the report so far
}

// saveImport writes the import, unless a piece before did, and its rows under
// one ledger entry.
func (w *writer) saveImport(ctx context.Context, ch *registry.Change) error {
	if ch.Import == nil && len(ch.ImportRows) == 0 {
		return nil
	}
	var text string
	if ch.Import != nil {
		var err error
		row := newImportRow(ch.Import)
		if text, err = ledger.Canonical(row); err != nil {
			return err
		}
		if err := put(ctx, w, imports, imports.insertSQL, []importRow{row}); err != nil {
			return err
		}
	}
	rowsHash, err := w.saveImportRows(ctx, ch.ImportRows)
	if err != nil {
		return err
	}
	lines := lineRanges(ch.ImportRows)
	if ch.Import == nil {
		id, taken := ch.ImportRows[0].ImportID, ch.Job.Taken
		return w.note(imports.name, id, pieceEntry{ID: id, Pieces: taken - 1},
			pieceEntry{id, taken, lines, len(ch.ImportRows), rowsHash, hexHash(ch.Job.Report)})
	}
	return w.note(imports.name, ch.Import.ID, nil, importEntry{
		ch.Import.ID, ch.Import.FileHash, lines, len(ch.ImportRows), rowsHash, hexHash([]byte(text)),
	})
}

func (w *writer) saveImportRows(ctx context.Context, rows []registry.ImportRow) (string, error) {
	sum := sha256.New()
	rows = slices.SortedFunc(slices.Values(rows), func(a, b registry.ImportRow) int { return cmp.Compare(a.Line, b.Line) })
	for part := range slices.Chunk(rows, chunk) {
		written := convert(part, newImportedTableRow)
		for i := range written {
			text, err := textOf(&written[i], whole)
			if err != nil {
				return "", err
			}
			sum.Write([]byte(text + "\n"))
		}
		if err := put(ctx, w, importRows, importRows.insertSQL, written); err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// lineRanges writes the lines of rows in order: "2-40,57".
func lineRanges(rows []registry.ImportRow) string {
	lines := convert(rows, func(r registry.ImportRow) int { return r.Line })
	slices.Sort(lines)
	var parts []string
	for i := 0; i < len(lines); {
		j := i + 1
		for j < len(lines) && lines[j] == lines[j-1]+1 {
			j++
		}
		part := strconv.Itoa(lines[i])
		if j > i+1 {
			part += "-" + strconv.Itoa(lines[j-1])
		}
		parts, i = append(parts, part), j
	}
	return strings.Join(parts, ",")
}

func hexHash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
