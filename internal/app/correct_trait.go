package app

import (
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// trait is one thing that a list says of an anchor: which cells it is read
// from, how it reads in a row and in the register, and how it is taken over.
type trait struct {
	cells   []string
	exact   bool                   // case and spaces count
	setting bool                   // of the record of setting
	told    func(*correction) bool // nil: where the list has one of the cells
	read    func(*correction, *registry.ListRow) string
	now     func(*correction) string
	// words are as written, where now is how it was read; nil: the same.
	words func(*correction) string
	// doubted says, where a cell was not believed, whether it is nevertheless what
	// the register holds. Nil: every cell is believed.
	doubted func(*correction) bool
	take    func(*correction)
	copy    func(to, from *registry.ListRow)
}

func (t trait) same(a, b string) bool {
	return a == b || !t.exact && registry.Fold(a) == registry.Fold(b)
}

// beside is what the register says with the words that it was read from beside
// it: whoever wrote 316L does not look for 1.4404.
func (t trait) beside(c *correction, now string) string {
	if t.words == nil || t.words(c) == "" || now == "" || t.same(now, t.words(c)) {
		return now
	}
	return now + " (" + t.words(c) + ")"
}

// agrees says whether the register says what the row says.
func (t trait) agrees(c *correction) bool {
	said := t.read(c, c.row)
	return t.same(said, t.now(c)) || said == "" && t.doubted != nil && t.doubted(c)
}

// traits are all but the state; the glue stands before the batch.
var traits = []trait{
	{
		cells: []string{"type"},
		read:  func(_ *correction, r *registry.ListRow) string { return formText(r.Form, r.FormWords) },
		now:   (*correction).formNow,
		take:  ofAnchor(func(a *registry.Anchor, r *registry.ListRow) { a.Form, a.FormWords = r.Form, r.FormWords }),
		copy:  func(to, from *registry.ListRow) { to.Form, to.FormWords = from.Form, from.FormWords },
	},
	{
		cells: []string{"type"},
		read:  func(_ *correction, r *registry.ListRow) string { return hangerText(r.HasHanger) },
		now:   func(c *correction) string { return hangerText(c.facts.HasHanger(c.in.asOf)) },
		take:  (*correction).takeHanger,
		copy:  func(to, from *registry.ListRow) { to.HasHanger = from.HasHanger },
	},
	{
		cells: []string{"metal"},
		read:  func(_ *correction, r *registry.ListRow) string { return metalText(r.Metal, r.MetalWords) },
		now:   func(c *correction) string { return metalText(c.facts.Anchor.Metal, c.facts.Anchor.MetalWords) },
		words: func(c *correction) string { return tidy(c.facts.Anchor.MetalWords) },
		take:  ofAnchor(func(a *registry.Anchor, r *registry.ListRow) { a.Metal, a.MetalWords = r.Metal, r.MetalWords }),
		copy:  func(to, from *registry.ListRow) { to.Metal, to.MetalWords = from.Metal, from.MetalWords },
	},
	{
		cells:   []string{"diameter"},
		read:    func(_ *correction, r *registry.ListRow) string { return lengthText(r.Shank) },
		now:     func(c *correction) string { return lengthText(c.facts.Anchor.Shank) },
		doubted: func(c *correction) bool { return lengthText(c.facts.Anchor.Shank) == c.sizeCell(0) },
		take:    ofAnchor(func(a *registry.Anchor, r *registry.ListRow) { a.Shank = r.Shank }),
		copy:    func(to, from *registry.ListRow) { to.Shank = from.Shank },
	},
	{
		cells:   []string{"length", "diameter"}, // a size such as 3/8 x 3 gives both
		told:    (*correction).tellsLength,
		read:    func(_ *correction, r *registry.ListRow) string { return lengthText(r.Length) },
		now:     func(c *correction) string { return lengthText(c.facts.Anchor.Length) },
		doubted: func(c *correction) bool { return lengthText(c.facts.Anchor.Length) == c.lengthCell() },
		take:    ofAnchor(func(a *registry.Anchor, r *registry.ListRow) { a.Length = r.Length }),
		copy:    func(to, from *registry.ListRow) { to.Length = from.Length },
	},
	{
		cells: []string{"notes"}, exact: true,
		read: func(_ *correction, r *registry.ListRow) string { return tidy(r.Notes) },
		now:  func(c *correction) string { return tidy(c.facts.Anchor.Notes) },
		take: ofAnchor(func(a *registry.Anchor, r *registry.ListRow) { a.Notes = r.Notes }),
		copy: func(to, from *registry.ListRow) { to.Notes = from.Notes },
	},
	{
		cells: []string{"set_on"}, setting: true,
		read: func(_ *correction, r *registry.ListRow) string { return spanText(r.SetOn) },
		now:  func(c *correction) string { return spanText(c.facts.Anchor.SetOn) },
		take: func(c *correction) {
			c.facts.Anchor.SetOn, c.anchor = c.row.SetOn, true
			c.installed().DoneOn = c.row.SetOn
		},
		copy: func(to, from *registry.ListRow) { to.SetOn = from.SetOn },
	},
	{
		cells: []string{"hole"}, setting: true,
		read:    func(_ *correction, r *registry.ListRow) string { return lengthText(r.Hole) },
		now:     func(c *correction) string { return lengthText(c.asSet().HoleDiameter) },
		doubted: func(c *correction) bool { return lengthText(c.asSet().HoleDiameter) == c.cell("hole") },
		take:    func(c *correction) { c.installed().HoleDiameter = c.row.Hole },
		copy:    func(to, from *registry.ListRow) { to.Hole = from.Hole },
	},
	{
		cells: []string{"glue"}, setting: true,
		read: func(_ *correction, r *registry.ListRow) string { return tidy(r.Glue) },
		now:  func(c *correction) string { return c.in.named(c.adhesive()) },
		take: (*correction).takeGlue,
		copy: func(to, from *registry.ListRow) { to.Glue = from.Glue },
	},
	{
		cells: []string{"batch"}, setting: true,
		read: func(_ *correction, r *registry.ListRow) string { return batchText(r.Batch) },
		now:  func(c *correction) string { return batchText(c.in.named(c.asSet().BatchID)) },
		take: func(c *correction) {
			i := c.installed()
			i.BatchID = idOf(c.in.book.batch(c.row.Batch, i.AdhesiveID))
		},
		copy: func(to, from *registry.ListRow) { to.Batch = from.Batch },
	},
	{
		cells: []string{"set_by"}, setting: true,
		read: func(_ *correction, r *registry.ListRow) string { return tidy(r.SetBy) },
		now:  func(c *correction) string { return c.in.named(c.asSet().PersonID) },
		take: func(c *correction) { c.installed().PersonID = c.in.book.person(c.row.SetBy) },
		copy: func(to, from *registry.ListRow) { to.SetBy = from.SetBy },
	},
	{
		cells: []string{"role"},
		read:  func(_ *correction, r *registry.ListRow) string { return string(r.Role) },
		now:   func(c *correction) string { return string(c.facts.Position.Role) },
		take:  func(c *correction) { c.facts.Position.Role, c.position = c.row.Role, true },
		copy:  func(to, from *registry.ListRow) { to.Role = from.Role },
	},
	{
		cells:   []string{"lat", "lon", "coordinates"},
		told:    (*correction).tellsPlace,
		doubted: (*correction).placeWritten,
		read:    (*correction).placeRead,
		now:     (*correction).placeNow,
		take:    (*correction).takePlace,
		copy: func(to, from *registry.ListRow) {
			to.Lat, to.Lon, to.CoordinateWords = from.Lat, from.Lon, from.CoordinateWords
		},
	},
	{
		cells: []string{"landowner"},
		read:  func(_ *correction, r *registry.ListRow) string { return tidy(r.Landowner) },
		now:   func(c *correction) string { return c.in.named(c.facts.Position.ParcelID) },
		take: func(c *correction) {
			p := &c.facts.Position
			p.ParcelID = c.in.book.parcel(c.row.Landowner)
			p.ParcelByHand, c.position = p.ParcelID != nil, true
		},
		copy: func(to, from *registry.ListRow) { to.Landowner = from.Landowner },
	},
}

// stateCells are what a list says of an anchor's state is read from.
var stateCells = []string{"state", "last_inspected"}

// seenTraits are what the state is remembered by; compareState compares it.
var seenTraits = []trait{
	{
		cells: []string{"state"},
		copy: func(to, from *registry.ListRow) {
			to.State, to.StateWords, to.ReplacedOn, to.NextState = from.State, from.StateWords, from.ReplacedOn, from.NextState
		},
	},
	{
		cells: []string{"last_inspected"},
		copy:  func(to, from *registry.ListRow) { to.CheckedOn = from.CheckedOn },
	},
}

// allTraits are the traits and the state, of which only cells and copy are set.
func allTraits() []trait { return append(append([]trait{}, traits...), seenTraits...) }

// ofAnchor takes over something of the anchor itself.
func ofAnchor(take func(*registry.Anchor, *registry.ListRow)) func(*correction) {
	return func(c *correction) {
		take(&c.facts.Anchor, c.row)
		c.anchor = true
	}
}

// asSet returns how the anchor was set as the register has it, with what its
// session says; empty if there is no record.
func (c *correction) asSet() registry.Installation {
	i := c.facts.Setting()
	if i == nil {
		return registry.Installation{}
	}
	return c.facts.AsSet(i)
}

// adhesive is that of the setting, else that of its batch. Nil: not known.
func (c *correction) adhesive() *uuid.UUID {
	i := c.asSet()
	if i.AdhesiveID != nil || i.BatchID == nil {
		return i.AdhesiveID
	}
	if id, ok := c.in.adhesives[*i.BatchID]; ok {
		return &id
	}
	return nil
}

// installed returns the record of setting that is to correct the stored one.
func (c *correction) installed() *registry.Installation {
	c.setting = true
	if c.installation == nil {
		c.installation = &registry.Installation{}
	}
	return c.installation
}

// takeGlue keeps the batch's text, as one of the other adhesive.
func (c *correction) takeGlue() {
	i := c.installed()
	i.AdhesiveID = c.in.book.glue(c.row.Glue)
	if i.BatchID != nil && !c.differs("batch") {
		i.BatchID = idOf(c.in.book.batch(c.in.named(i.BatchID), i.AdhesiveID))
	}
}

// hanger returns which fitting is a hanger that hangs, -1 for none.
func (c *correction) hanger() int {
	for i := range c.facts.Fittings {
		f := &c.facts.Fittings[i]
		if f.Kind == registry.Hanger && f.Presence == registry.Present && f.Hangs(c.in.asOf) {
			return i
		}
	}
	return -1
}

// takeHanger adds a hanger, or ends the one that is there.
func (c *correction) takeHanger() {
	f := registry.Fitting{ID: newID(), AnchorID: c.facts.Anchor.ID, Kind: registry.Hanger, Presence: registry.Present}
	fittings := append([]registry.Fitting{}, c.facts.Fittings...)
	if at := c.hanger(); at >= 0 {
		fittings[at].EndedOn = c.in.asOf
		f = fittings[at]
	} else {
		fittings = append(fittings, f)
	}
	c.facts.Fittings = fittings
	c.written.Fittings = append(c.written.Fittings, f)
}

// placeRead is where a row has its anchor; in a cave, the words of it.
func (c *correction) placeRead(r *registry.ListRow) string {
	if c.site.Kind == registry.Cave {
		return r.CoordinateWords
	}
	return placeText(r.Lat, r.Lon)
}

// placeNow is where the register has it. Of a cave's coordinates it holds those
// of all its rows: what they name is not gone.
func (c *correction) placeNow() string {
	if c.site.Kind != registry.Cave {
		return placeText(c.facts.Position.Lat, c.facts.Position.Lon)
	}
	if words := c.row.CoordinateWords; strings.Contains(c.site.CoordinateWords, words) {
		return words
	}
	return c.prev.CoordinateWords
}

func (c *correction) takePlace() {
	if c.site.Kind == registry.Cave {
		c.in.book.site(c.row)
		return
	}
	c.facts.Position.Lat, c.facts.Position.Lon, c.position = c.row.Lat, c.row.Lon, true
}

func hangerText(has bool) string {
	if has {
		return string(registry.Hanger)
	}
	return ""
}

func spanText(s calendar.Span) string {
	if !s.Known() {
		return ""
	}
	return calendar.Span{From: s.From, To: s.To}.String()
}

// batchText is empty for a text without letters and digits.
func batchText(text string) string {
	b := registry.Batch{Text: tidy(text)}
	if b.Key() == "" {
		return ""
	}
	return b.Text
}

// placeOfRow names a row's spot.
func placeOfRow(r *registry.ListRow) string {
	var parts []string
	for _, name := range []string{r.Site, r.Sector, r.Route, r.Label} {
		if name = tidy(name); name != "" {
			parts = append(parts, name)
		}
	}
	return strings.Join(parts, ", ")
}

// namesOf returns the names of what records and positions point to: adhesives,
// batches, people, and the landowners of parcels.
func namesOf(k *registry.Known) map[uuid.UUID]string {
	names, owners := make(map[uuid.UUID]string), make(map[uuid.UUID]string)
	for i := range k.Products {
		names[k.Products[i].ID] = k.Products[i].Name
	}
	for i := range k.Batches {
		names[k.Batches[i].ID] = k.Batches[i].Text
	}
	for i := range k.Persons {
		names[k.Persons[i].ID] = k.Persons[i].Name
	}
	for i := range k.Landowners {
		owners[k.Landowners[i].ID] = k.Landowners[i].Name
	}
	for i := range k.Parcels {
		names[k.Parcels[i].ID] = owners[k.Parcels[i].LandownerID]
	}
	return names
}

// adhesivesOf returns the adhesives of batches that are of one.
func adhesivesOf(batches []registry.Batch) map[uuid.UUID]uuid.UUID {
	out := make(map[uuid.UUID]uuid.UUID, len(batches))
	for i := range batches {
		if id := batches[i].ProductID; id != nil {
			out[batches[i].ID] = *id
		}
	}
	return out
}

// named returns the name of what an id points to, "" for nil.
func (in *intake) named(id *uuid.UUID) string {
	if id == nil {
		return ""
	}
	return in.names[*id]
}
