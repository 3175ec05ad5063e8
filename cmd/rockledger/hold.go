package main

import (
	"context"
	"fmt"
	"io"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/config"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// holdsPage is how many legal holds are read at a time.
const holdsPage = 200

func runHoldAdd(ctx context.Context, c config.HoldAdd, stdout io.Writer) error {
	h, err := holdOf(c)
	if err != nil {
		return err
	}
	return inGroup(ctx, c.Database, c.Group, func(r *register, who registry.Actor) error {
		stored, _, err := r.service.AddLegalHold(ctx, who, h)
		if err != nil {
			return err
		}
		return printHolds(stdout, []registry.LegalHold{stored})
	})
}

func runHoldLift(ctx context.Context, c config.HoldLift, stdout io.Writer) error {
	id, err := idOf("<id>", c.ID)
	if err != nil {
		return err
	}
	return inGroup(ctx, c.Database, c.Group, func(r *register, who registry.Actor) error {
		lifted, err := r.service.LiftLegalHold(ctx, who, id)
		if err != nil {
			return err
		}
		return printHolds(stdout, []registry.LegalHold{lifted})
	})
}

func runHoldList(ctx context.Context, c config.HoldList, stdout io.Writer) error {
	return inGroup(ctx, c.Database, c.Group, func(r *register, who registry.Actor) error {
		var list []registry.LegalHold
		for page := (registry.Page{Limit: holdsPage}); ; page.After = list[len(list)-1].ID {
			part, err := r.service.LegalHolds(ctx, who, page)
			if err != nil {
				return err
			}
			if list = append(list, part...); len(part) < holdsPage {
				return printHolds(stdout, list)
			}
		}
	})
}

// inGroup opens the register and does something in a group, as the command line.
func inGroup(ctx context.Context, c config.Database, slug string, do func(*register, registry.Actor) error) error {
	r, err := openRegister(ctx, c.DatabaseURL)
	if err != nil {
		return err
	}
	defer r.pool.Close()
	who, err := commandLine(ctx, r.store, slug)
	if err != nil {
		return err
	}
	return do(r, who)
}

// idOf reads an id that was typed; at is the flag or the argument that it was
// typed at, as help has it.
func idOf(at, text string) (uuid.UUID, error) {
	id, err := uuid.Parse(text)
	var c fault.Checks
	c.Require(err == nil, at, fault.Malformed, "text", text, "wanted", wording.SomeID+", as addresses of pages and answers of the API have it")
	return id, c.Err()
}

// holdOf reads a hold off the command line.
func holdOf(c config.HoldAdd) (registry.LegalHold, error) {
	h := registry.LegalHold{Over: registry.HoldOver(c.Over), Reason: c.Reason}
	var err error
	if c.ID != "" {
		if h.ID, err = idOf("--id", c.ID); err != nil {
			return h, err
		}
	}
	if c.OverID != "" {
		over, err := idOf("--over-id", c.OverID)
		if err != nil {
			return h, err
		}
		h.OverID = &over
	}
	if c.Until != "" {
		if h.Until, err = calendar.ParseDate(c.Until); err != nil {
			return h, fmt.Errorf("read --until: %w", err)
		}
	}
	return h, nil
}

func printHolds(stdout io.Writer, list []registry.LegalHold) error {
	text := ""
	for _, h := range list {
		over := ""
		if h.OverID != nil {
			over = " " + h.OverID.String()
		}
		text += h.ID.String() + "  " + wording.LegalHold(h) + over + "\n    " + h.Reason + "\n"
	}
	if len(list) == 0 {
		text = wording.NoneHolds + "\n"
	}
	_, err := fmt.Fprintf(stdout, "%s\n%s\n", text, wording.Caution)
	return err
}
