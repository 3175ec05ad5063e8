package auth

import (
	"cmp"
	"maps"
	"slices"
	"sync"
	"time"

	"rockledger/internal/fault"
)

// Limits on failed sign-ins; defaults of this project.
const (
	throttleWindow     = 15 * time.Minute
	failuresPerAccount = 8    // from one address for one account
	failuresPerAddress = 40   // from one address for any account
	throttleEntries    = 8192 // remembered at most
)

// throttle slows the guessing of passwords: it counts failures by address and
// by address and account within a window. It lives in memory, so that a
// restart forgets it, and holds a bounded number of entries.
type throttle struct {
	now func() time.Time

	mu      sync.Mutex
	entries map[string]failures
}

// failures are counted until their window ends.
type failures struct {
	n    int
	ends time.Time
}

func newThrottle(now func() time.Time) *throttle {
	return &throttle{now: now, entries: make(map[string]failures)}
}

// allow returns TooMany if address has failed too often, for this account or
// for any.
func (t *throttle) allow(address, account string) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.count(address) < failuresPerAddress && t.count(pair(address, account)) < failuresPerAccount {
		return nil
	}
	return fault.New(fault.TooMany, "too many failed sign-ins from one address")
}

// failed counts one failure.
func (t *throttle) failed(address, account string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, key := range []string{address, pair(address, account)} {
		t.add(key)
	}
}

// succeeded forgets the failures of this account from this address.
func (t *throttle) succeeded(address, account string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.entries, pair(address, account))
}

func pair(address, account string) string { return address + "\x1f" + account }

func (t *throttle) count(key string) int {
	f := t.entries[key]
	if !t.now().Before(f.ends) {
		return 0
	}
	return f.n
}

func (t *throttle) add(key string) {
	f := t.entries[key]
	if now := t.now(); !now.Before(f.ends) {
		f = failures{ends: now.Add(throttleWindow)}
	}
	f.n++
	if _, there := t.entries[key]; !there && len(t.entries) >= throttleEntries {
		t.makeRoom()
	}
	t.entries[key] = f
}

// makeRoom drops what has run out, and if that is nothing, the half with the
// fewest failures: a flood of addresses must neither fill the memory nor wash
// out those who fail again and again.
func (t *throttle) makeRoom() {
	now := t.now()
	maps.DeleteFunc(t.entries, func(_ string, f failures) bool { return !now.Before(f.ends) })
	if len(t.entries) < throttleEntries {
		return
	}
	keys := slices.SortedFunc(maps.Keys(t.entries), func(a, b string) int {
		return cmp.Compare(t.entries[a].n, t.entries[b].n)
	})
	for _, key := range keys[:len(keys)/2] {
		delete(t.entries, key)
	}
}
