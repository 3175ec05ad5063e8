package demo

import (
	"encoding/binary"
	"fmt"
	"iter"
	"math/rand/v2"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// The shape of synthetic registers: groups of 20,000 anchors, as a federation
// has them, 50 anchors to a site, five routes of ten positions each.
const (
	groupAnchors = 20_000
	siteAnchors  = 50
	routeAnchors = 10
	siteSectors  = 2
	siteRoutes   = siteAnchors / routeAnchors
	groupPersons = 12
	groupBatches = 40
	siteColumns  = 20 // sites of a group stand in a grid, so many to a row
)

// MostSynthetic is the largest synthetic register, in anchors: the grounds of
// more groups would not fit on the map.
const MostSynthetic = 20_000_000

// Synthetic is a register of any size for measuring. It is never whole in
// memory: each row is invented when it is asked for, always the same. Nothing
// in it is real, and its assessments are plausible, not computed.
type Synthetic struct {
	Anchors int
	Groups  int
	// AsOf is the day it is invented for.
	AsOf calendar.Date
	// Rules are the house rules of every group, as JSON, version 1.
	Rules []byte
	// Engine is the version of the computation that the assessments name.
	Engine int

	perGroup int
}

// NewSynthetic returns a register of so many anchors, from 1 to MostSynthetic,
// spread evenly over groups of about 20,000.
func NewSynthetic(anchors int, at time.Time, rules []byte, engine int) (*Synthetic, error) {
	if anchors < 1 || anchors > MostSynthetic {
		return nil, fmt.Errorf("a synthetic register of %d anchors: want 1 to %d", anchors, MostSynthetic)
	}
	groups := max(1, (anchors+groupAnchors/2)/groupAnchors)
	perGroup := (anchors + groups - 1) / groups
	return &Synthetic{
		Anchors: anchors, Groups: (anchors + perGroup - 1) / perGroup,
		AsOf: calendar.On(at, time.UTC), Rules: rules, Engine: engine, perGroup: perGroup,
	}, nil
}

// Sites is how many sites the register has.
func (s *Synthetic) Sites() int {
	n := 0
	for g := range s.Groups {
		n += s.sitesOf(g)
	}
	return n
}

// sitesOf is how many sites a group has.
func (s *Synthetic) sitesOf(group int) int {
	return (s.anchorsOf(group) + siteAnchors - 1) / siteAnchors
}

// anchorsOf is how many anchors a group has.
func (s *Synthetic) anchorsOf(group int) int { return min(s.perGroup, s.Anchors-group*s.perGroup) }

// sort keeps the ids of different things apart.
type sort uint64

const (
	sortGroup sort = iota + 1
	sortPerson
	sortProduct
	sortBatch
	sortSite
	sortEnvironment
	sortSector
	sortRoute
	sortPosition
	sortAnchor
	sortFitting
	sortInstallation
	sortFirstUse
	sortInspection
	sortRemoval
)

// syntheticID returns the id of the n-th of a sort: a version 7 UUID whose time
// counts, so that ids are in the order of entry.
func syntheticID(of sort, n int) uuid.UUID {
	count := uint64(n) //nolint:gosec // counts from 0
	var u uuid.UUID
	binary.BigEndian.PutUint64(u[0:8], (1_704_067_200_000+count)<<16) // milliseconds from the start of 2024
	binary.BigEndian.PutUint64(u[8:16], mixed(uint64(of)<<56|count))
	u[6] = 0x70 | u[6]&0x0f
	u[8] = 0x80 | u[8]&0x3f
	return u
}

// mixed is the finaliser of SplitMix64: it maps numbers one to one.
//
// Source: Steele, Lea and Flood, "Fast splittable pseudorandom number
// generators", OOPSLA 2014, from memory.
func mixed(x uint64) uint64 {
	x ^= x >> 30
	x *= 0xbf58476d1ce4e5b9
	x ^= x >> 27
	x *= 0x94d049bb133111eb
	return x ^ x>>31
}

// chanceOf is the chance of the n-th of a sort.
func chanceOf(of sort, n int) *maker {
	return &maker{chance: rand.New(rand.NewPCG(uint64(of), uint64(n)))} //nolint:gosec // invented; the same numbers each time
}

// Probe is what to ask a synthetic register about: one anchor, in the rock where
// there is one, and its surroundings.
type Probe struct {
	Group  uuid.UUID
	Anchor uuid.UUID
	AsOf   calendar.Date
	// Alone is a page that holds the anchor's line and no other, Page one of
	// 100 lines from the anchor on, both of the list of All.
	Alone, Page registry.Page
	All         registry.AnchorFilter
	// Late are the anchors due before AsOf.
	Late registry.AnchorFilter
	// Near are the anchors of four neighbouring sites, about 200; Whole is a
	// page that holds them all.
	Near  registry.AnchorFilter
	Whole registry.Page
	// Recall is a notice, not issued, about recalledBatches of the group's
	// batches: more than 5,000 anchors in a full group.
	Recall registry.Notice
}

// recalledBatches is how many of a group's batches a probe's notice is about.
const recalledBatches = 30

// Probes go round the groups without end, to another anchor each time. The
// anchors lie in the first half of their groups, so that pages are full.
func (s *Synthetic) Probes() iter.Seq[Probe] {
	return func(yield func(Probe) bool) {
		for n := 0; yield(s.probe(n)); n++ {
		}
	}
}

func (s *Synthetic) probe(n int) Probe {
	const stride = 7919 // a prime, so that each anchor has its turn
	group, turn := n%s.Groups, n/s.Groups
	at := (1 + turn*stride) % max(1, s.anchorsOf(group)/2)
	first := group * s.perGroup
	for at < s.anchorsOf(group)-1 && !s.traits(first+at).removedOn.IsZero() {
		at++
	}
	anchor := first + at
	p := Probe{Group: syntheticID(sortGroup, group), Anchor: syntheticID(sortAnchor, anchor), AsOf: s.AsOf}
	if at > 0 {
		p.Alone.After = syntheticID(sortAnchor, anchor-1)
	}
	p.Alone.Limit, p.Page = 1, registry.Page{Limit: 100, After: p.Alone.After}
	p.Late.DueBefore = s.AsOf
	p.Recall = registry.Notice{Title: "Invented recall", IssuedOn: s.AsOf, InspectBy: s.AsOf.AddDays(30)}
	for k := range recalledBatches {
		p.Recall.Criterion.BatchIDs = append(p.Recall.Criterion.BatchIDs, syntheticID(sortBatch, group*groupBatches+k))
	}
	p.Near.Box, p.Whole.Limit = s.box(group, turn), 1000
	return p
}

// box frames four sites that have coordinates, fewer in a small group.
func (s *Synthetic) box(group, turn int) *registry.Box {
	rows := max(1, s.sitesOf(group)/siteColumns-1)
	column := turn % (siteColumns/2 - 2) // left of the caves' column
	lat, lon := groundOf(group, turn%rows*siteColumns+column)
	return &registry.Box{West: lon - siteStep/2, South: lat - siteStep/2, East: lon + 1.5*siteStep, North: lat + 1.5*siteStep}
}

// Group returns the id of the n-th group and its anchors in order.
func (s *Synthetic) Group(n int) (id uuid.UUID, anchors []uuid.UUID) {
	anchors = make([]uuid.UUID, s.anchorsOf(n))
	for i := range anchors {
		anchors[i] = syntheticID(sortAnchor, n*s.perGroup+i)
	}
	return syntheticID(sortGroup, n), anchors
}

const (
	siteStep  = 0.02 // degrees between neighbouring sites
	groupStep = 1.0  // degrees between the grounds of neighbouring groups
	groupRow  = 35   // groups to a parallel
)

// groundOf is where a group's site lies, in degrees.
func groundOf(group, site int) (lat, lon float64) {
	lat = -40 + groupStep*float64(group/groupRow) + siteStep*float64(site/siteColumns)
	lon = -20 + groupStep*float64(group%groupRow) + siteStep*float64(site%siteColumns)
	return lat, lon
}
