package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// cureTimes works out the cure of installations, in their order. One that is
// not its anchor's latest, or that nothing bonds, has none.
func (a *API) cureTimes(ctx context.Context, list []registry.Installation) ([]api.CureTime, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	times, err := a.service.CureTimes(ctx, who, each(list, func(i registry.Installation) uuid.UUID { return i.AnchorID }))
	out := make([]api.CureTime, 0, len(list))
	for k := range list {
		if t, ok := times[list[k].AnchorID]; ok && t.InstallationID == list[k].ID {
			out = append(out, cureTimeOut(list[k].AnchorID, t))
		}
	}
	return out, err
}

// cureTimeOf is the cure of one anchor, the zero one if none is worked out.
func (a *API) cureTimeOf(ctx context.Context, anchor uuid.UUID) (api.CureTime, error) {
	who, err := a.who(ctx)
	if err != nil {
		return api.CureTime{}, err
	}
	times, err := a.service.CureTimes(ctx, who, []uuid.UUID{anchor})
	t, ok := times[anchor]
	if !ok {
		return api.CureTime{}, err
	}
	return cureTimeOut(anchor, t), err
}

func cureTimeOut(anchor uuid.UUID, t registry.CureTime) api.CureTime {
	return api.CureTime{
		AnchorId: anchor, InstallationId: t.InstallationID, Basis: api.CureBasis(t.Basis), Missing: t.Missing, Text: wording.CureRests(t),
		SheetId: idOut(t.SheetID), Source: t.Source, WorkingMinutes: t.WorkingMinutes, CureMinutes: t.CureMinutes,
		LowestC: temperatureOut(t.LowestC), LowestBy: api.LowestBy(t.LowestBy), Assumed: t.Assumed, Wet: t.Wet, UsualDoubling: t.UsualDoubling,
		NotBefore: t.NotBefore,
	}
}
