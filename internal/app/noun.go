package app

import (
	"context"
	"fmt"
	"reflect"
	"strconv"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// noun says how the things of one kind of inventory are read, checked and kept.
type noun[N any] struct {
	what        string // for the ledger and errors
	add, change Operation
	key         func(*N) (id *uuid.UUID, version *int)
	read        func(s Store, ctx context.Context, group, id uuid.UUID) (N, error)
	// tidy brings a noun into the one form in which it is kept and compared. It
	// leaves alone what the slices of what it was given hold. Nil: any form is
	// that.
	tidy func(*N)
	// check adds what is wrong with a noun to the desk's checks, fills in what
	// is worked out, and puts what else must change into the desk's change.
	// before is the noun as stored, nil for a new one.
	check func(d *desk, before, n *N)
	put   func(*registry.Change, N)
}

// desk is where one change to the inventory is prepared. It lives as long as
// the call whose context it holds.
type desk struct {
	fault.Checks
	ctx  context.Context
	s    *Service
	who  registry.Actor
	asOf calendar.Date
	also registry.Change
	// session is the gluing session that an installation names; nil: none.
	session *registry.GluingSession
}

func (s *Service) newDesk(ctx context.Context, who registry.Actor) *desk {
	return &desk{ctx: ctx, s: s, who: who, asOf: s.AsOf(who)}
}

// has reads what field points to. It reports false, with a violation, if that
// is not there.
func has[T any](d *desk, field string, id uuid.UUID, read func(Store, context.Context, uuid.UUID, uuid.UUID) (T, error)) (T, bool) {
	t, err := read(d.s.store, d.ctx, d.who.GroupID, id)
	if err != nil && !missing(&d.Checks, field, err) {
		d.Nest(field, err)
	}
	return t, err == nil
}

// fixed wants a field to stay as it was stored.
func (d *desk) fixed(field string, same bool) { d.Require(same, field, fault.NotAllowed) }

// stored returns what a noun was before, the zero value for a new one.
func stored[N any](before *N) (n N) {
	if before != nil {
		n = *before
	}
	return n
}

// past wants a day, if there is one, to have come.
func (d *desk) past(field string, day calendar.Date) {
	d.Require(day <= d.asOf, field, fault.DateAhead, "today", d.asOf.String())
}

// ended wants a place that ends to have come, and no anchor to stand there any
// more. before is the day on which it ended as stored.
func (d *desk) ended(at registry.Place, before, now calendar.Date) {
	d.past("ended_on", now)
	if now.IsZero() || !before.IsZero() {
		return
	}
	standing, err := d.s.store.AnchorsAt(d.ctx, d.who.GroupID, at)
	d.Nest("", err)
	d.Require(len(standing) == 0, "ended_on", fault.InUse, "standing", strconv.Itoa(len(standing)))
}

// addNoun stores a new noun of kind k, under a new id if it has none. The same
// id with the same content again answers the stored one and created = false;
// with other content it is fault.Conflict.
func addNoun[N any](ctx context.Context, s *Service, who registry.Actor, n N, k noun[N]) (stored N, created bool, err error) {
	var none N
	if err := may(who, k.add); err != nil {
		return none, false, err
	}
	id, version := k.key(&n)
	given := *id != uuid.Nil
	if *version = 0; !given {
		*id = newID()
	}
	k.settle(&n)
	d := s.newDesk(ctx, who)
	k.check(d, nil, &n)
	if given {
		stored, err := k.again(ctx, s, who, n)
		if fault.KindOf(err) != fault.NotFound {
			return stored, false, err
		}
	}
	if err := d.Err(); err != nil {
		return none, false, fmt.Errorf("add %s: %w", k.what, err)
	}
	if err := k.write(d, k.what+" added", n); err != nil {
		return none, false, fmt.Errorf("add %s %v: %w", k.what, *id, err)
	}
	*version = 1
	return n, true, nil
}

// again returns the stored noun with n's id if it says the same, fault.Conflict
// if it does not, and fault.NotFound if there is none.
func (k noun[N]) again(ctx context.Context, s *Service, who registry.Actor, n N) (N, error) {
	var none N
	id, _ := k.key(&n)
	stored, err := k.read(s.store, ctx, who.GroupID, *id)
	if err != nil {
		return none, err
	}
	same := stored
	_, version := k.key(&same)
	*version = 0
	k.settle(&same)
	if !reflect.DeepEqual(same, n) {
		return none, fault.New(fault.Conflict, "%s %v is stored with other content", k.what, *id)
	}
	return stored, nil
}

// changeNoun lets edit change a noun whose version the caller has read, and
// returns it as stored, with its next version. A version that is no longer the
// stored one is fault.Stale. Nothing changed: nothing is written.
func changeNoun[N any](ctx context.Context, s *Service, who registry.Actor, id uuid.UUID, version int, edit func(*N) error, k noun[N]) (N, error) {
	var none N
	if err := may(who, k.change); err != nil {
		return none, err
	}
	n, err := k.edited(ctx, s, who, id, version, edit)
	if err != nil {
		return none, fmt.Errorf("change %s %v: %w", k.what, id, err)
	}
	return n, nil
}

func (k noun[N]) edited(ctx context.Context, s *Service, who registry.Actor, id uuid.UUID, version int, edit func(*N) error) (N, error) {
	n, err := k.read(s.store, ctx, who.GroupID, id)
	if err != nil {
		return n, err
	}
	_, stored := k.key(&n)
	if *stored != version {
		return n, fault.New(fault.Stale, "version %d was read, %d is stored", version, *stored)
	}
	k.settle(&n)
	before := n
	unshare(reflect.ValueOf(&n).Elem())
	if err := edit(&n); err != nil {
		return n, err
	}
	toID, toVersion := k.key(&n)
	*toID, *toVersion = id, version
	k.settle(&n)
	if reflect.DeepEqual(before, n) {
		return n, nil
	}
	d := s.newDesk(ctx, who)
	k.check(d, &before, &n)
	if err := d.Err(); err != nil {
		return n, err
	}
	if err := k.write(d, k.what+" changed", n); err != nil {
		return n, err
	}
	*toVersion++
	return n, nil
}

// unshare gives a struct pointers and slices of its own, so that what is written
// through them changes nothing of the value it was copied from.
func unshare(v reflect.Value) {
	for i := range v.NumField() {
		f := v.Field(i)
		switch {
		case !f.CanSet():
		case f.Kind() == reflect.Struct:
			unshare(f)
		case f.Kind() == reflect.Pointer && !f.IsNil():
			own := reflect.New(f.Type().Elem())
			own.Elem().Set(f.Elem())
			f.Set(own)
		case f.Kind() == reflect.Slice && !f.IsNil():
			f.Set(reflect.AppendSlice(reflect.MakeSlice(f.Type(), 0, f.Len()), f))
		}
	}
}

func (k noun[N]) settle(n *N) {
	if k.tidy != nil {
		k.tidy(n)
	}
}

// write stores a noun with all that the desk holds beside it.
func (k noun[N]) write(d *desk, what string, n N) error {
	c := d.also
	c.What, c.At = what, d.s.instant()
	k.put(&c, n)
	if err := d.s.store.Write(d.ctx, d.who, c); err != nil {
		return err
	}
	d.s.freshen(d.ctx, d.who)
	return nil
}
