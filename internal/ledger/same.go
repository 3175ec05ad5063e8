package ledger

import (
	"encoding/json"
	"maps"
	"slices"

	"rockledger/internal/fault"
)

// Sparse returns v's canonical text without the members of the object that are
// null: what is absent is left out, so that a column that comes later changes
// no text. Errors are those of Canonical, and Invalid for what is no object.
func Sparse(v any) (string, error) {
	text, err := Canonical(v)
	if err != nil {
		return "", err
	}
	members, err := membersOf(text)
	if err != nil {
		return "", err
	}
	for _, value := range members {
		if string(value) == "null" {
			return Canonical(present(members))
		}
	}
	return text, nil
}

// Later says what it means that an entry lacks a member which a row has, by
// the member's name, as canonical JSON: the default of a column that came
// later. Anything stands for a member that cannot be compared.
type Later map[string]string

// Anything is a meaning of Later that any value agrees with.
const Anything = "*"

// Differing lists, sorted, the members by which a row's canonical text differs
// from what its last entry says. Null and absent are the same.
//
// Errors are Invalid: a text that is no JSON object.
func Differing(entry, row string, later Later) ([]string, error) {
	if entry == row {
		return nil, nil
	}
	then, err := membersOf(entry)
	if err != nil {
		return nil, err
	}
	now, err := membersOf(row)
	if err != nil {
		return nil, err
	}
	then, now = present(then), present(now)
	var names []string
	for name, value := range now {
		was, ok := then[name]
		if !ok {
			meaning := later[name]
			if meaning != Anything && meaning != string(value) {
				names = append(names, name)
			}
			continue
		}
		if string(was) != string(value) {
			names = append(names, name)
		}
	}
	for name := range then {
		if _, ok := now[name]; !ok && later[name] != Anything {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names, nil
}

func membersOf(text string) (map[string]json.RawMessage, error) {
	var members map[string]json.RawMessage
	if err := json.Unmarshal([]byte(text), &members); err != nil || members == nil {
		return nil, fault.New(fault.Invalid, "text of a row is no JSON object")
	}
	return members, nil
}

// present are the members that are not null.
func present(members map[string]json.RawMessage) map[string]json.RawMessage {
	out := maps.Clone(members)
	maps.DeleteFunc(out, func(_ string, value json.RawMessage) bool { return string(value) == "null" })
	return out
}
