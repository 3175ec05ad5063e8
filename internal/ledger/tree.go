package ledger

import "crypto/sha256"

// Tree is the hash over a list of any length, taken in one item at a time: the
// Merkle tree hash with SHA-256. The zero Tree is the empty list.
//
// Source: RFC 6962, section 2.1.
type Tree struct {
	count int
	full  [][sha256.Size]byte // roots of the complete subtrees, largest first
}

// Add takes the next item in; data is not kept.
func (t *Tree) Add(data []byte) {
	h := sha256.Sum256(append([]byte{0}, data...))
	for n := t.count; n&1 == 1; n >>= 1 {
		last := len(t.full) - 1
		h = node(t.full[last], h)
		t.full = t.full[:last]
	}
	t.full = append(t.full, h)
	t.count++
}

// Count returns how many items were taken in.
func (t *Tree) Count() int { return t.count }

// Root returns the hash over the items so far. More may be added after.
func (t *Tree) Root() [sha256.Size]byte {
	if t.count == 0 {
		return sha256.Sum256(nil)
	}
	last := len(t.full) - 1
	h := t.full[last]
	for i := last - 1; i >= 0; i-- {
		h = node(t.full[i], h)
	}
	return h
}

func node(left, right [sha256.Size]byte) [sha256.Size]byte {
	text := make([]byte, 0, 1+2*sha256.Size)
	text = append(text, 1)
	text = append(text, left[:]...)
	return sha256.Sum256(append(text, right[:]...))
}
