package auth

import (
	"fmt"
	"testing"
	"time"

	"rockledger/internal/fault"
)

// clock is a clock that stands still until it is moved.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

func newClock() *clock { return &clock{time.Date(2026, 5, 3, 12, 0, 0, 0, time.UTC)} }

func TestThrottle(t *testing.T) {
	t.Parallel()
	c := newClock()
	th := newThrottle(c.now)
	fail := func(n int, address, account string) {
		for range n {
			th.failed(address, account)
		}
	}
	check := func(when, address, account string, want bool) {
		t.Helper()
		err := th.allow(address, account)
		if (err == nil) != want || err != nil && fault.KindOf(err) != fault.TooMany {
			t.Errorf("%s: allow(%s, %s) = %v, want allowed %v", when, address, account, err, want)
		}
	}

	fail(failuresPerAccount-1, "192.0.2.1", "a")
	check("one failure short", "192.0.2.1", "a", true)
	fail(1, "192.0.2.1", "a")
	check("too many", "192.0.2.1", "a", false)
	check("another account", "192.0.2.1", "b", true)
	check("another address", "192.0.2.2", "a", true)

	for i := range failuresPerAddress {
		fail(1, "192.0.2.3", fmt.Sprint(i))
	}
	check("an address that tries many accounts", "192.0.2.3", "never tried", false)

	c.at = c.at.Add(throttleWindow)
	check("after the window", "192.0.2.1", "a", true)
	check("after the window", "192.0.2.3", "never tried", true)
}

func TestThrottleForgetsAfterSuccess(t *testing.T) {
	t.Parallel()
	th := newThrottle(newClock().now)
	for range failuresPerAccount {
		th.failed("192.0.2.1", "a")
	}
	th.succeeded("192.0.2.1", "a")
	if err := th.allow("192.0.2.1", "a"); err != nil {
		t.Errorf("allow after a success = %v, want none", err)
	}
}

func TestThrottleIsBounded(t *testing.T) {
	t.Parallel()
	c := newClock()
	th := newThrottle(c.now)
	for i := range 3 * throttleEntries {
		th.failed(fmt.Sprint(i), "a")
		if len(th.entries) > throttleEntries {
			t.Fatalf("%d entries after %d failures, want at most %d", len(th.entries), i+1, throttleEntries)
		}
	}
	c.at = c.at.Add(throttleWindow)
	for i := range throttleEntries {
		th.failed("later", fmt.Sprint(i))
	}
	if err := th.allow("later", "a"); err == nil {
		t.Error("allow = none after a flood, want the newest failures still counted")
	}
}
