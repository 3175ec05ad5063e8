package houserules

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// defaultLeaves returns the shipped rules leaf by leaf. They must not be
// changed.
var defaultLeaves = sync.OnceValue(func() map[string]any {
	tree, err := decode(defaultJSON)
	if err != nil {
		panic(err) // they were parsed before
	}
	leaves := make(map[string]any)
	flatten("", tree, leaves)
	return leaves
})

// complete puts those defaults that came later and are missing into tree and
// leaves, and returns their paths in order.
func complete(tree map[string]any, leaves, defaults map[string]any) []string {
	var done []string
	for _, path := range slices.Sorted(maps.Keys(defaults)) {
		if _, ok := leaves[path]; ok || !cameLater(path) {
			continue
		}
		leaf := raised(path, defaults[path], leaves["shortest_interval_months"])
		if put(tree, strings.Split(path, "."), leaf) {
			leaves[path] = leaf
			done = append(done, path)
		}
	}
	return done
}

// put sets the leaf at a path and makes the tables on the way. It reports false
// where something else than a table stands on the way.
func put(tree map[string]any, path []string, leaf any) bool {
	if len(path) == 1 {
		tree[path[0]] = leaf
		return true
	}
	if tree[path[0]] == nil {
		tree[path[0]] = make(map[string]any)
	}
	table, ok := tree[path[0]].(map[string]any)
	if _, isLeaf := table["value"]; !ok || isLeaf {
		return false
	}
	return put(table, path[1:], leaf)
}

// raised returns the leaf of an interval, raised to the group's shortest; other
// leaves as they are.
func raised(path string, leaf, shortest any) any {
	if !isInterval(path) {
		return leaf
	}
	low, value := whole(shortest), whole(leaf)
	if value >= low {
		return leaf
	}
	return map[string]any{
		"value":  json.Number(strconv.FormatInt(low, 10)),
		"source": "default of this project, raised to the group's shortest interval",
	}
}

func isInterval(path string) bool {
	return strings.HasPrefix(path, "longest_interval_months.") || strings.HasPrefix(path, "fitting_months.") ||
		strings.HasPrefix(path, "duty_months.")
}

// whole returns the value of a leaf, 0 if it is no whole number.
func whole(leaf any) int64 {
	object, _ := leaf.(map[string]any)
	n, _ := object["value"].(json.Number)
	i, _ := n.Int64()
	return i
}
