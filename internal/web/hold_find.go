package web

import (
	"cmp"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// holdField is the field for what a hold is over: one choice that names kind
// and id, "site:…", so that no id has to be copied.
const holdField = "over"

// holdValue is the choice of one thing; a kind alone, without an id, is over
// everything or names too little.
func holdValue(over registry.HoldOver, id *uuid.UUID) string {
	if id == nil {
		return string(over)
	}
	return string(over) + ":" + id.String()
}

// chosenHold reads what a hold is over.
func chosenHold(f *form) (registry.HoldOver, *uuid.UUID) {
	over, text, _ := strings.Cut(f.text(holdField), ":")
	id, err := uuid.Parse(text)
	if err != nil {
		return registry.HoldOver(over), nil
	}
	return registry.HoldOver(over), &id
}

// holdFinder offers what a hold can be over: everything, and what the search
// finds by name among sites, anchors, people and landowners.
func (p *Pages) holdFinder(c echo.Context, who registry.Actor, f *form) (finder, error) {
	n := finder{Name: holdField, Single: true, Search: true, Focus: f.text("step") == searchStep(holdField)}
	typed := f.text(searchField(holdField))
	words := searchWords(typed)
	named, err := p.holdNamed(c, who)
	if err != nil {
		return n, err
	}
	anchors, err := p.holdAnchors(c, who, f, typed)
	if err != nil {
		return n, err
	}
	all := option{Value: string(registry.HoldAll), Text: wording.HoldChoice(registry.HoldAll, "")}
	matching := 0
	for _, o := range slices.Concat(named, anchors) {
		switch {
		case f.has(holdField, o.Value):
			n.Chosen = append(n.Chosen, o)
		case len(words) > 0 && matches(o.Text, words):
			if matching++; matching <= mostFound {
				n.Found = append(n.Found, o)
			}
		}
	}
	n.State = wording.HoldFound(len(n.Found), matching, len(words) > 0)
	if f.has(holdField, all.Value) {
		n.Chosen = append(n.Chosen, all)
	} else {
		n.Found = append([]option{all}, n.Found...)
	}
	return n, nil
}

// holdNamed are sites, people and landowners as choices.
func (p *Pages) holdNamed(c echo.Context, who registry.Actor) ([]option, error) {
	ctx := c.Request().Context()
	sites, err := everything(func(at registry.Page) ([]registry.Site, error) {
		return p.service.Sites(ctx, who, at)
	}, func(s registry.Site) uuid.UUID { return s.ID })
	if err != nil {
		return nil, err
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return nil, err
	}
	owners, err := everything(func(at registry.Page) ([]registry.Landowner, error) {
		return p.service.Landowners(ctx, who, at)
	}, func(l registry.Landowner) uuid.UUID { return l.ID })
	var options []option
	add := func(over registry.HoldOver, id uuid.UUID, name string) {
		options = append(options, option{Value: holdValue(over, &id), Text: wording.HoldChoice(over, name)})
	}
	for _, s := range sites {
		add(registry.HoldSite, s.ID, s.Name)
	}
	for _, n := range persons {
		add(registry.HoldPerson, n.ID, n.Name)
	}
	for _, l := range owners {
		add(registry.HoldLandowner, l.ID, l.Name)
	}
	slices.SortFunc(options, func(a, b option) int { return cmp.Compare(registry.Fold(a.Text), registry.Fold(b.Text)) })
	return options, err
}

// holdAnchors are anchors as choices: the one chosen, and those that the longest
// word of a search finds, which may be many more than the whole of it does.
func (p *Pages) holdAnchors(c echo.Context, who registry.Actor, f *form, typed string) ([]option, error) {
	ctx := c.Request().Context()
	var options []option
	if over, id := chosenHold(f); over == registry.HoldAnchor && id != nil {
		story, err := p.service.AnchorStory(ctx, who, *id)
		switch {
		case err == nil:
			name := joinNamed(", ", story.Facts.Site.Name, strings.Join(storyRoutes(story), " and "), story.Facts.Position.Label)
			options = append(options, option{Value: f.text(holdField), Text: wording.HoldChoice(over, name)})
		case fault.KindOf(err) != fault.NotFound: // what is not there is no choice
			return nil, err
		}
	}
	if !allowed(c, app.ListAnchors) || len(searchWords(typed)) == 0 {
		return options, nil
	}
	longest := slices.MaxFunc(strings.Fields(typed), func(a, b string) int { return cmp.Compare(len(a), len(b)) })
	lines, err := p.service.Anchors(ctx, who, registry.AnchorFilter{Text: longest}, registry.Page{Limit: anchorsOnPage})
	for _, l := range lines {
		o := option{Value: holdValue(registry.HoldAnchor, &l.Anchor.ID), Text: wording.HoldChoice(registry.HoldAnchor, joinNamed(", ", l.Site, l.Route, l.Label))}
		if !f.has(holdField, o.Value) {
			options = append(options, o)
		}
	}
	return options, err
}

func storyRoutes(s registry.AnchorStory) []string {
	var names []string
	for _, r := range s.Routes {
		names = append(names, r.Name)
	}
	return names
}
