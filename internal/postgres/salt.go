package postgres

import (
	"context"
	"crypto/rand"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// veiled are the columns whose values the ledger binds but does not hold: names
// and contacts, and free text, into which names are typed.
var veiled = map[string][]string{
	"person": {"name"}, "landowner": {"name", "contact"}, "parcel": {"name"}, "agreement": {"issuer", "conditions"}, "restriction": {"why"}, "proposal": {"words"},

	"site": {"notes"}, "position": {"notes"}, "anchor": {"notes"}, "product": {"notes"},
	"fitting": {"words"}, "picture": {"words"}, "event": {"words"}, "notice": {"words", "ended_reason"}, "gluing_session": {"words"},
	"installation": {"words"}, "cure": {"words"}, "first_use": {"words"}, "inspection": {"words"}, "maintenance": {"words"},
	"removal": {"words"}, "marking": {"words"}, "settlement": {"words", "reason"}, "retraction": {"words", "reason"},
	"erasure": {"reason"}, "legal_hold": {"reason"},
}

// erasable rows may have had what is veiled erased: what is left then is no
// secret.
type erasable interface{ erased() bool }

// hiddenIn are the columns of a row that its text in the ledger may not hold.
func hiddenIn(noun string, r any) []string {
	if e, ok := r.(erasable); ok && e.erased() {
		return nil
	}
	return veiled[noun]
}

// saltKey is what a salt is for.
type saltKey struct {
	noun string
	id   uuid.UUID
}

// saltSize is as long as the hash that it goes into, bytes.
const saltSize = 32

// salt returns a row's salt, a new one unless it is known.
func (w *writer) salt(noun string, id uuid.UUID) ([]byte, error) {
	key := saltKey{noun, id}
	if s, ok := w.salts[key]; ok {
		return s, nil
	}
	s := make([]byte, saltSize)
	if _, err := rand.Read(s); err != nil {
		return nil, translate(err, "make a salt")
	}
	if w.salts == nil {
		w.salts = make(map[saltKey][]byte)
	}
	w.salts[key] = s
	w.newSalts = append(w.newSalts, key)
	return s, nil
}

type saltRow struct {
	RowID uuid.UUID `json:"row_id"`
	Salt  []byte    `json:"salt"`
}

// selectSalts is served by the primary key.
const selectSalts = `
SELECT k.id AS row_id, s.salt
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (SELECT s.salt FROM ledger_salt AS s WHERE s.noun = @noun AND s.row_id = k.id OFFSET 0) AS s`

// knowSalts remembers stored salts.
func (w *writer) knowSalts(noun string, rows []saltRow) {
	if w.salts == nil {
		w.salts = make(map[saltKey][]byte)
	}
	for _, r := range rows {
		w.salts[saltKey{noun, r.RowID}] = r.Salt
	}
}

// saltAnew has the next entry of rows veil what they are changed to under another
// salt: nobody can find out any more what their earlier entries veil.
func (w *writer) saltAnew(noun string, rows []uuid.UUID) {
	if w.anew == nil {
		w.anew = make(map[saltKey]bool)
	}
	for _, id := range rows {
		w.anew[saltKey{noun, id}] = true
	}
}

// forgetSalt makes way for another salt where there is to be one.
func (w *writer) forgetSalt(key saltKey) {
	if w.anew[key] {
		delete(w.salts, key)
	}
}

const insertSalts = `
INSERT INTO ledger_salt (group_id, noun, row_id, salt)
SELECT @group_id, k.noun, k.row_id, k.salt
FROM unnest(@nouns::text[], @row_ids::uuid[], @salts::bytea[]) AS k (noun, row_id, salt)`

// keepSalts writes the salts that were made here.
func (w *writer) keepSalts(ctx context.Context) error {
	if err := w.dropAnew(ctx); err != nil || len(w.newSalts) == 0 {
		return err
	}
	n := len(w.newSalts)
	nouns, ids, salts := make([]string, n), make([]uuid.UUID, n), make([][]byte, n)
	for i, k := range w.newSalts {
		nouns[i], ids[i], salts[i] = k.noun, k.id, w.salts[k]
	}
	w.newSalts = nil
	w.grow("ledger_salt", n)
	args := pgx.StrictNamedArgs{"group_id": w.group, "nouns": nouns, "row_ids": ids, "salts": salts}
	return w.enterRows(ctx, "keep salts", insertSalts, args, n)
}

// dropAnew takes away the salts that others have taken the place of.
func (w *writer) dropAnew(ctx context.Context) error {
	var b pgx.Batch
	for key := range w.anew {
		b.Queue(deleteSalt, pgx.StrictNamedArgs{"noun": key.noun, "row_id": key.id})
	}
	clear(w.anew)
	return w.send(ctx, "salt anew", &b)
}

const deleteSalt = `DELETE FROM ledger_salt WHERE noun = @noun AND row_id = @row_id`

// dropSalts takes salts away, so that nobody can find out what was veiled.
func (w *writer) dropSalts(ctx context.Context, noun string, rows []uuid.UUID) error {
	var b pgx.Batch
	for _, id := range rows {
		w.newSalts = slices.DeleteFunc(w.newSalts, func(k saltKey) bool { return k == saltKey{noun, id} })
		b.Queue(deleteSalt, pgx.StrictNamedArgs{"noun": noun, "row_id": id})
	}
	return w.send(ctx, "erase salts", &b)
}
