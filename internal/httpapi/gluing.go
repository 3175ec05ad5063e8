package httpapi

import (
	"context"
	"errors"
	"fmt"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// RecordGluing answers POST /v1/gluing-sessions.
func (a *API) RecordGluing(ctx context.Context, r api.RecordGluingRequestObject) (api.RecordGluingResponseObject, error) {
	var read readings
	in, err := gluingIn(&read, *r.Body)
	if err != nil {
		return nil, err
	}
	stored, created, err := record(read.objecting(ctx), a, in, a.service.RecordGluing)
	if err := read.and(err); err != nil {
		return nil, err
	}
	x := gluingReply(stored)
	x.CureTimes, err = a.cureTimes(ctx, stored.Installations)
	if created {
		return api.RecordGluing201JSONResponse(x), err
	}
	return api.RecordGluing200JSONResponse{GluingReplyJSONResponse: x}, err
}

// ListGluingSessions answers GET /v1/gluing-sessions.
func (a *API) ListGluingSessions(ctx context.Context, r api.ListGluingSessionsRequestObject) (api.ListGluingSessionsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, sessionID, of(r.Params.SiteId, a.service.GluingSessions))
	return api.ListGluingSessions200JSONResponse{GluingSessionPageJSONResponse: api.GluingSessionPageJSONResponse{
		Items: each(items, sessionOut), NextCursor: next, Caution: wording.Caution,
	}}, err
}

// GetGluingSession answers GET /v1/gluing-sessions/{id}.
func (a *API) GetGluingSession(ctx context.Context, r api.GetGluingSessionRequestObject) (api.GetGluingSessionResponseObject, error) {
	s, err := one(ctx, a, r.Id, a.service.GluingSession)
	if err != nil {
		return nil, err
	}
	x := gluingStoryReply(s)
	x.CureTimes, err = a.cureTimes(ctx, s.Installations)
	return api.GetGluingSession200JSONResponse{GluingStoryReplyJSONResponse: x}, err
}

// gluingIn reads a session with what was set in it. What has no id gets a new
// one, but for anchors, which the installations name.
func gluingIn(read *readings, b api.NewGluing) (registry.Gluing, error) {
	g := registry.Gluing{Session: sessionIn(read, b), BatchText: b.BatchText, Anchors: each(b.Anchors, anchorIn)}
	var err error
	if g.Session.ID, err = idOr(b.Id); err != nil {
		return g, err
	}
	for _, i := range b.Installations {
		rec, err := recordIn(i.AnchorId, api.NewFirstUse{
			Id: i.Id, DoneOn: i.DoneOn, PersonId: i.PersonId, Words: i.Words, Replaces: i.Replaces,
		})
		if err != nil {
			return g, err
		}
		g.Installations = append(g.Installations, installationIn(rec, glued(i)))
	}
	return g, nil
}

// idOr returns an id, or a new one for none.
func idOr(id uuid.UUID) (uuid.UUID, error) {
	if id != uuid.Nil {
		return id, nil
	}
	id, err := uuid.NewV7()
	if err != nil {
		return id, fmt.Errorf("make session id: %w", err)
	}
	return id, nil
}

func sessionIn(read *readings, b api.NewGluing) registry.GluingSession {
	return registry.GluingSession{
		SiteID: b.SiteId, DoneOn: spanIn(b.DoneOn),
		AdhesiveID: idIn(b.AdhesiveId), BatchID: idIn(b.BatchId), ExpiresOn: dateIn(b.ExpiresOn), Cartridge: b.Cartridge,
		NozzleNew: b.NozzleNew, OpenedAt: momentIn(b.OpenedAt), FirstMixDiscarded: b.FirstMixDiscarded,
		RockC: read.in("rock_c", b.RockC, b.RockHow), AirC: read.in("air_c", b.AirC, b.AirHow),
		CartridgeC: read.in("cartridge_c", b.CartridgeC, b.CartridgeHow), NightC: read.in("night_c", b.NightC, b.NightHow),
		SetByID: idIn(b.SetById), SupervisedByID: idIn(b.SupervisedById), CheckedByID: idIn(b.CheckedById),
		MethodStatement: b.MethodStatement, SampleKept: b.SampleKept, SampleWhere: b.SampleWhere, SampleAtRock: b.SampleAtRock,
		SampleFound: registry.SampleState(b.SampleFound), SampleFoundOn: dateIn(b.SampleFoundOn), SampleFoundByID: idIn(b.SampleFoundById),
		Words: b.Words, Replaces: idIn(b.Replaces),
	}
}

func sessionID(s registry.GluingSession) uuid.UUID { return s.ID }

func sessionOut(s registry.GluingSession) api.GluingSession {
	out := api.GluingSession{
		Id: s.ID, SiteId: s.SiteID, DoneOn: spanOut(s.DoneOn),
		AdhesiveId: idOut(s.AdhesiveID), BatchId: idOut(s.BatchID), ExpiresOn: dateOut(s.ExpiresOn), Cartridge: s.Cartridge,
		NozzleNew: s.NozzleNew, OpenedAt: momentOut(s.OpenedAt), FirstMixDiscarded: s.FirstMixDiscarded,
		SetById: idOut(s.SetByID), SupervisedById: idOut(s.SupervisedByID), CheckedById: idOut(s.CheckedByID),
		MethodStatement: s.MethodStatement, SampleKept: s.SampleKept, SampleWhere: s.SampleWhere, SampleAtRock: s.SampleAtRock,
		SampleFound: api.SampleFound(s.SampleFound), SampleFoundOn: dateOut(s.SampleFoundOn), SampleFoundById: idOut(s.SampleFoundByID),
		Words: s.Words, Origin: api.Origin(s.Origin), RecordedAt: s.RecordedAt.UTC(), Replaces: idOut(s.Replaces),
	}
	out.RockC, out.RockHow = readingOut(s.RockC)
	out.AirC, out.AirHow = readingOut(s.AirC)
	out.CartridgeC, out.CartridgeHow = readingOut(s.CartridgeC)
	out.NightC, out.NightHow = readingOut(s.NightC)
	return out
}

func gluingReply(g registry.Gluing) api.GluingReplyJSONResponse {
	return api.GluingReplyJSONResponse{
		Session: sessionOut(g.Session), Anchors: each(g.Anchors, anchorOut), Installations: each(g.Installations, installationOut),
		Caution: wording.Caution,
	}
}

// gluingStoryReply lists persons, products and batches in the order of their ids.
func gluingStoryReply(s registry.GluingStory) api.GluingStoryReplyJSONResponse {
	return api.GluingStoryReplyJSONResponse{
		Session: sessionOut(s.Session), ReplacedBy: idOut(s.ReplacedBy),
		Installations: each(s.Installations, installationOut), Anchors: each(s.Anchors, anchorLineOut),
		Persons: personsOut(s.Persons), Products: each(byID(s.Products, productID), productOut),
		Batches: each(byID(s.Batches, batchID), batchOut), Caution: wording.Caution,
	}
}

// readings reads temperatures and gathers those of which only is said how they
// are known.
type readings struct {
	fault.Checks
	objection error // as it was handed in; nil: none
}

func (r *readings) in(field string, c *float64, how api.HowRead) *registry.Reading {
	r.Require(c != nil || how == "", field, fault.Required)
	if c == nil {
		return nil
	}
	return &registry.Reading{C: quantity.Temperature(*c), How: registry.HowRead(how)}
}

// objecting returns a context in which nothing is written if a reading is wrong,
// so that all else that is wrong is told with it.
func (r *readings) objecting(ctx context.Context) context.Context {
	if r.objection = r.Err(); r.objection != nil {
		return app.Objecting(ctx, r.objection)
	}
	return ctx
}

// and returns what is wrong with the readings together with what a use case said
// in their context.
func (r *readings) and(err error) error {
	own := r.objection
	switch f, ok := fault.As(err); {
	case own == nil:
		return err
	case err == nil || errors.Is(err, own):
		return own
	case !ok || f.Kind != fault.Invalid:
		return err
	}
	var c fault.Checks
	c.Nest("", err)
	c.Nest("", own)
	return c.Err()
}

func readingOut(r *registry.Reading) (*float64, api.HowRead) {
	if r == nil {
		return nil, ""
	}
	return temperatureOut(&r.C), api.HowRead(r.How)
}

func temperatureIn(c *float64) *quantity.Temperature {
	if c == nil {
		return nil
	}
	t := quantity.Temperature(*c)
	return &t
}

func temperatureOut(t *quantity.Temperature) *float64 {
	if t == nil {
		return nil
	}
	c := t.Celsius()
	return &c
}
