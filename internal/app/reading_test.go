package app_test

import (
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"rockledger/internal/app"
	"rockledger/internal/fault"
)

const (
	shortFile = 1<<20 - 1
	longFile  = 1 << 20
)

func TestReadAlone(t *testing.T) {
	t.Parallel()
	s := app.New(nil, time.Now)
	done, err := s.ReadAlone(t.Context(), longFile)
	if err != nil {
		t.Fatal(err)
	}
	s.WaitForReading(time.Millisecond)
	if _, err := s.ReadAlone(t.Context(), longFile); fault.KindOf(err) != fault.Busy {
		t.Errorf("a second long list: %v, want busy", err)
	}
	if _, err := s.ReadAlone(t.Context(), shortFile); err != nil {
		t.Errorf("a short list beside a long one: %v, want none to wait for", err)
	}
	done()
	if _, err := s.ReadAlone(t.Context(), longFile); err != nil {
		t.Errorf("a long list after the one before: %v", err)
	}
}

// However many come, no two long lists are in memory together, and each has its
// turn.
func TestLongListsTakeTurns(t *testing.T) {
	t.Parallel()
	s := app.New(nil, time.Now)
	s.WaitForReading(time.Minute)
	var reading atomic.Int32
	var wg sync.WaitGroup
	for range 20 {
		wg.Go(func() {
			done, err := s.ReadAlone(t.Context(), longFile)
			if err != nil {
				t.Error(err)
				return
			}
			defer done()
			if n := reading.Add(1); n != 1 {
				t.Errorf("%d long lists in memory", n)
			}
			reading.Add(-1)
		})
	}
	wg.Wait()
}
