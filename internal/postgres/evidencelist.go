package postgres

import (
	"encoding/json"
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// selectListLines reads where the anchor @id stands on lists taken over; served
// by import_row_of_anchor_idx.
const selectListLines = `
SELECT r.import_id, r.line, i.file_name
FROM import_row AS r
CROSS JOIN LATERAL (SELECT i.file_name FROM import AS i WHERE i.id = r.import_id OFFSET 0) AS i
WHERE r.anchor_id = @id
ORDER BY r.import_id, r.line`

type listLineRow struct {
	ImportID uuid.UUID `json:"import_id"`
	Line     int       `json:"line"`
	FileName string    `json:"file_name"`
}

// origins are the lists by import.
func (r *evidenceRows) origins() map[uuid.UUID]registry.ListOrigin {
	lists := make(map[uuid.UUID]registry.ListOrigin)
	for _, l := range r.lists {
		o := lists[l.ImportID]
		lists[l.ImportID] = registry.ListOrigin{FileName: l.FileName, Lines: append(o.Lines, l.Line)}
	}
	return lists
}

// onList keeps, of what the log says of imports, the entries that bind a line
// about the anchor: a long list has one for each piece.
func (r *evidenceRows) onList(lines []registry.LedgerLine) []registry.LedgerLine {
	return slices.DeleteFunc(lines, func(l registry.LedgerLine) bool {
		return l.Noun == imports.name && !slices.ContainsFunc(r.lists, func(on listLineRow) bool {
			return on.ImportID == l.RowID && binds(l.After, on.Line)
		})
	})
}

// binds says that an entry of an import is over a line. Those of earlier
// versions, which tell no lines, are over all.
func binds(text string, line int) bool {
	var said importText
	if json.Unmarshal([]byte(text), &said) != nil {
		return false
	}
	if said.Lines == "" {
		return said.Rows > 0
	}
	for part := range strings.SplitSeq(said.Lines, ",") {
		if first, last, err := rangeOf(part); err == nil && first <= line && line <= last {
			return true
		}
	}
	return false
}
