package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/assess"
	"rockledger/internal/bench"
	"rockledger/internal/calendar"
	"rockledger/internal/config"
	"rockledger/internal/demo"
	"rockledger/internal/houserules"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
)

// runBench measures the store at size in a private database and says how that
// stands to pgbench.
func runBench(ctx context.Context, c config.Bench, stdout, stderr io.Writer) error {
	if c.List != "" {
		return writeList(c)
	}
	rules, err := houserules.Default().JSON()
	if err != nil {
		return err
	}
	made, err := bench.Run(ctx, bench.Options{
		Anchors: c.Anchors, Clients: c.Clients, Rounds: c.Rounds, Seconds: c.Seconds,
		At: time.Now(), Progress: stderr, Rules: rules, Engine: assess.Engine,
		Inspect: benchInspect, Reassess: benchReassess, Recall: benchRecall, Seal: benchSeal,
	})
	if err != nil {
		return err
	}
	if c.JSON != "" {
		text, err := json.MarshalIndent(made, "", "  ")
		if err != nil {
			return fmt.Errorf("write the figures: %w", err)
		}
		if err := os.WriteFile(c.JSON, append(text, '\n'), 0o644); err != nil { //nolint:gosec // figures are no secret
			return fmt.Errorf("write the figures: %w", err)
		}
	}
	return made.Print(stdout)
}

// writeList writes an invented list to measure importing with.
func writeList(c config.Bench) error {
	n := c.Anchors[0]
	err := os.WriteFile(c.List, demo.SyntheticList(n, max(1, n/50)), 0o644) //nolint:gosec // it is invented
	if err != nil {
		return fmt.Errorf("write the list: %w", err)
	}
	return nil
}

func benchActor(group uuid.UUID) registry.Actor {
	return registry.Actor{GroupID: group, TimeZone: "UTC", Role: registry.RoleOwner, Who: "bench"}
}

// benchInspect records an inspection of today, as the service does.
func benchInspect(ctx context.Context, store *postgres.Store, group, anchor uuid.UUID) error {
	id, err := uuid.NewV7()
	if err != nil {
		return fmt.Errorf("make an id: %w", err)
	}
	service, who := app.New(store, time.Now), benchActor(group)
	_, _, err = service.RecordInspection(ctx, who, registry.Inspection{
		Record: registry.Record{ID: id, AnchorID: anchor, DoneOn: calendar.Exactly(service.AsOf(who))},
		Level:  registry.HandsOn, Verdict: registry.Keep, Ticked: true,
	})
	return err
}

// benchLot is how many anchors refreshing assesses in one transaction.
const benchLot = 500

// benchRecall issues a notice and assesses its hits anew, as refreshing does.
func benchRecall(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return 0, fmt.Errorf("make an id: %w", err)
	}
	p.Recall.ID = id
	ch := registry.Change{What: "notice added", At: time.Now().UTC().Truncate(time.Microsecond), Notices: []registry.Notice{p.Recall}}
	if err := store.Write(ctx, benchActor(p.Group), ch); err != nil {
		return 0, err
	}
	reach, err := store.NoticeReach(ctx, p.Group, p.Recall)
	if err != nil {
		return 0, err
	}
	var hits []uuid.UUID
	for _, a := range reach.Anchors[:min(len(reach.Anchors), bench.HitLot)] {
		hits = append(hits, a.AnchorID)
	}
	for part := range slices.Chunk(hits, benchLot) {
		if err := benchReassess(ctx, store, p.Group, part); err != nil {
			return 0, err
		}
	}
	return len(hits), nil
}

// benchSeal seals as the service does.
func benchSeal(ctx context.Context, store *postgres.Store) (int, error) {
	return app.New(store, time.Now).SealLedgers(ctx)
}

// benchReassess assesses anchors anew as of today, as refreshing does.
func benchReassess(ctx context.Context, store *postgres.Store, group uuid.UUID, anchors []uuid.UUID) error {
	at := time.Now().UTC().Truncate(time.Microsecond)
	asOf := calendar.On(at, time.UTC)
	return store.Change(ctx, benchActor(group), anchors, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		c := registry.Change{What: "refresh", At: at, Assessments: make([]registry.Assessment, len(all))}
		for i := range all {
			c.Assessments[i] = assess.Anchor(all[i].Current(), rules, asOf)
		}
		return c, nil
	})
}
