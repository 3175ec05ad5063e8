package app

import (
	"sync"
	"time"
	_ "time/tzdata" // a group's zone must be known on a bare machine too

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Service is the use cases of one installation, for every group. It is safe
// for use by several goroutines.
type Service struct {
	store Store
	now   func() time.Time
	zones sync.Map // IANA name -> *time.Location
	// waiting is sent on when a long list was handed in; it holds one.
	waiting   chan struct{}
	pieceRows int // of a long list that are entered together

	reading     chan struct{} // holds one while a long list is in memory
	readingWait time.Duration // for the long list before

	pictures  PictureKeeper
	unpacking chan struct{} // holds one while a picture is unpacked
}

// New returns the use cases over store. now is the clock, time.Now but in
// tests. Without an option, store keeps what pictures are made of.
func New(store Store, now func() time.Time, options ...func(*Service)) *Service {
	s := &Service{
		store: reluctant{store}, now: now, waiting: make(chan struct{}, 1), pieceRows: pieceRows,
		reading: make(chan struct{}, 1), readingWait: readingWait,
		pictures: store, unpacking: make(chan struct{}, 1),
	}
	for _, set := range options {
		set(s)
	}
	return s
}

// AsOf returns today's date in the zone of who's group. A zone that does not
// exist counts as UTC.
func (s *Service) AsOf(who registry.Actor) calendar.Date { return s.today(who.TimeZone) }

func (s *Service) today(zone string) calendar.Date { return calendar.On(s.now(), s.location(zone)) }

func (s *Service) location(zone string) *time.Location {
	if l, ok := s.zones.Load(zone); ok {
		return l.(*time.Location)
	}
	l, err := time.LoadLocation(zone)
	if err != nil {
		l = time.UTC
	}
	s.zones.Store(zone, l)
	return l
}

// instant is the current instant as the register keeps it: UTC, to the
// microsecond.
func (s *Service) instant() time.Time { return s.now().UTC().Truncate(time.Microsecond) }
