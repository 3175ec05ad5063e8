package ledger

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
)

// VeilMember is the member of a veiled text that stands for what was left out.
const VeilMember = "private"

// Veil returns v's text as by Sparse, but for the members of the given names:
// in their place stands one that binds their values without telling them, the
// HMAC-SHA-256, in hex, of their canonical text under a salt of the row's own.
// Once the salt is gone nobody can find out what they were, not even by trying
// names. Where all of them are empty it is empty and salt is not asked for; with
// a salt of nil it is one that no text has.
//
// Errors are those of Sparse. Source: RFC 2104 for HMAC.
func Veil(v any, names []string, salt func() ([]byte, error)) (string, error) {
	text, err := Canonical(v)
	if err != nil {
		return "", err
	}
	members, err := membersOf(text)
	if err != nil {
		return "", err
	}
	members = present(members)
	hidden := make(map[string]json.RawMessage)
	for _, name := range names {
		if value, ok := members[name]; ok && string(value) != `""` {
			hidden[name] = value
		}
		delete(members, name)
	}
	veil, err := veilOf(hidden, salt)
	if err != nil {
		return "", err
	}
	members[VeilMember] = json.RawMessage(`"` + veil + `"`)
	return Canonical(members)
}

func veilOf(hidden map[string]json.RawMessage, salt func() ([]byte, error)) (string, error) {
	if len(hidden) == 0 {
		return "", nil
	}
	key, err := salt()
	if err != nil {
		return "", err
	}
	text, err := Canonical(hidden)
	if err != nil {
		return "", err
	}
	return Bind([]byte(text), key), nil
}

// Bind returns the veil of members that are left out, as by Veil: hidden is the
// canonical text of the object that they make, which has one at least. It is
// neither modified nor kept.
func Bind(hidden, salt []byte) string {
	if salt == nil {
		return "without-salt"
	}
	mac := hmac.New(sha256.New, salt)
	mac.Write(hidden)
	return hex.EncodeToString(mac.Sum(nil))
}

// Untold lists those of names that a text of a row does not tell: what came to be
// veiled later, earlier texts tell. Errors are Invalid: a text that is no JSON
// object.
func Untold(text string, names []string) ([]string, error) {
	members, err := membersOf(text)
	var out []string
	for _, name := range names {
		if _, told := members[name]; !told {
			out = append(out, name)
		}
	}
	return out, err
}

// Veiled says whether a text of a row was made by Veil.
func Veiled(text string) bool {
	members, err := membersOf(text)
	_, ok := members[VeilMember]
	return err == nil && ok
}

// Bare returns a row's text without its veil and without the members of the
// given names: what a text made by Veil and one from before it have in common.
// Errors are Invalid: a text that is no JSON object.
func Bare(text string, names []string) (string, error) {
	members, err := membersOf(text)
	if err != nil {
		return "", err
	}
	delete(members, VeilMember)
	for _, name := range names {
		delete(members, name)
	}
	return Canonical(members)
}
