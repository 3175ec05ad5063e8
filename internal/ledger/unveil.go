package ledger

import (
	"encoding/json"
	"maps"
	"slices"
)

// Words are what Veil leaves out of a row's text, with the veil that binds them.
// The zero Words fit no veil.
type Words struct {
	veil    string
	members map[string]json.RawMessage
}

// WordsOf returns what Veil would leave out of v under a salt. Without a salt
// nothing can be told to fit: the Words are zero. Errors are those of Veil.
func WordsOf(v any, names []string, salt []byte) (Words, error) {
	if salt == nil {
		return Words{}, nil
	}
	text, err := Canonical(v)
	if err != nil {
		return Words{}, err
	}
	members, err := membersOf(text)
	if err != nil {
		return Words{}, err
	}
	members = present(members)
	maps.DeleteFunc(members, func(name string, value json.RawMessage) bool {
		return !slices.Contains(names, name) || string(value) == `""`
	})
	veil, err := veilOf(members, func() ([]byte, error) { return salt, nil })
	return Words{veil, members}, err
}

// Unveil puts words back into a text made by Veil, beside the veil, if it is
// theirs. If it is another's, instead stands in each member of the given names:
// what was there is not known. A text without a veil, or whose veil is empty, is
// returned as it is. Errors are Invalid: a text that is no JSON object.
func (w Words) Unveil(text string, names []string, instead string) (string, error) {
	members, err := membersOf(text)
	if err != nil {
		return "", err
	}
	var veil string
	if err := json.Unmarshal(members[VeilMember], &veil); err != nil || veil == "" {
		return text, nil //nolint:nilerr // it has no veil
	}
	if veil == w.veil {
		maps.Copy(members, w.members)
		return Canonical(members)
	}
	stand, err := json.Marshal(instead)
	if err != nil {
		return "", err
	}
	for _, name := range names {
		members[name] = stand
	}
	return Canonical(members)
}
