package ledger

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"strconv"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/fault"
)

// Digest is a SHA-256.
type Digest = [sha256.Size]byte

// Row is an entry as it is stored: its place in the log and the hash that was
// stored with it.
type Row struct {
	ID    int64
	Era   int
	TxID  uint64 // transaction ids begin anew with each era
	Entry Entry
	Hash  Digest
}

// Leaf is what a seal's root is taken over for one row: the transaction and
// the id, 8 bytes each, most significant first, then the hash.
func Leaf(txid uint64, id int64, hash Digest) []byte {
	data := make([]byte, 0, 16+len(hash))
	data = binary.BigEndian.AppendUint64(data, txid)
	data = binary.BigEndian.AppendUint64(data, uint64(id)) //nolint:gosec // ids count from 1
	return append(data, hash[:]...)
}

// Seal closes a stretch of one group's log: the rows of one era from where the
// seal before ended up to Until, in the order of transaction and id. Seals are
// ordered by era and number, and each holds the hash of the one before.
type Seal struct {
	GroupID  uuid.UUID
	Era      int // 1 and up; a restore raises it
	Number   int // 1 and up within the era
	At       time.Time
	Count    int
	First    int64   // id of the first row
	Last     int64   // id of the last row
	Until    uint64  // every row of an earlier transaction is in this seal or one before
	Root     Digest  // Tree over the leaves
	Previous *Digest // hash of the seal before; nil: the first of all
}

// Text returns the seal's canonical text: one JSON object as by Canonical,
// hashes in hex, ids and instants as texts, no previous where there is none.
//
// Errors are Invalid: a seal without an instant.
func (s *Seal) Text() (string, error) {
	if s.At.IsZero() {
		return "", fault.New(fault.Invalid, "seal without an instant")
	}
	var previous string
	if s.Previous != nil {
		previous = hex.EncodeToString(s.Previous[:])
	}
	return Canonical(struct {
		GroupID  uuid.UUID `json:"group_id"`
		Era      int       `json:"era"`
		Number   int       `json:"number"`
		At       string    `json:"at"`
		Count    int       `json:"count"`
		First    string    `json:"first"`
		Last     string    `json:"last"`
		Until    string    `json:"until"`
		Root     string    `json:"root"`
		Previous string    `json:"previous,omitempty"`
	}{
		s.GroupID, s.Era, s.Number, s.At.UTC().Truncate(time.Microsecond).Format(instant), s.Count,
		strconv.FormatInt(s.First, 10), strconv.FormatInt(s.Last, 10), strconv.FormatUint(s.Until, 10),
		hex.EncodeToString(s.Root[:]), previous,
	})
}

// Hash returns the SHA-256 of the seal's text; its errors are those of Text.
func (s *Seal) Hash() (Digest, error) {
	text, err := s.Text()
	if err != nil {
		return Digest{}, err
	}
	return sha256.Sum256([]byte(text)), nil
}
