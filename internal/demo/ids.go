package demo

import (
	"encoding/binary"
	"math/rand/v2"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
)

// maker hands out chance and ids from a fixed seed for each part of the
// scenario, so that every start invents the same.
type maker struct {
	chance *rand.Rand
	asOf   calendar.Date
	ticks  int64
}

func newMaker(asOf calendar.Date, part uint64) *maker {
	return &maker{chance: rand.New(rand.NewPCG(1996, part)), asOf: asOf} //nolint:gosec // an invented scenario wants the same numbers each time
}

// id returns a version 7 UUID whose time is a count, not a clock.
func (m *maker) id() uuid.UUID {
	m.ticks++
	var u uuid.UUID
	binary.BigEndian.PutUint64(u[0:8], uint64(time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC).UnixMilli()+m.ticks)<<16) //nolint:gosec // a positive time
	binary.BigEndian.PutUint64(u[8:16], m.chance.Uint64())
	u[6] = 0x70 | u[6]&0x0f
	u[8] = 0x80 | u[8]&0x3f
	return u
}

// between returns a number from low to high, both included.
func (m *maker) between(low, high int) int { return low + m.chance.IntN(high-low+1) }

// oneIn is true once in n times.
func (m *maker) oneIn(n int) bool { return m.chance.IntN(n) == 0 }

func pick[T any](m *maker, list []T) T { return list[m.chance.IntN(len(list))] }
