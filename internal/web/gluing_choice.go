package web

import (
	"cmp"
	"slices"
	"strings"

	"github.com/a-h/templ"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// cardChoices are what the fields of a gluing card can be chosen from.
type cardChoices struct {
	Persons   []option
	Hardware  []option
	Adhesives []option
	Batches   []option
	OnHand    []option // batches by their text, those that expire first before others
	// AsAnchor says what the anchor itself has in a field that the record of its
	// setting leaves open.
	AsAnchor map[string]string
}

// cardBox is a field of the card with where it stands in the form.
type cardBox struct {
	wording.CardField
	At      string // its name in the form
	Options []option
	List    string // id of the list of what can be typed; blank: none
	Like    string // what a blank field says
	Help    string
}

// cardHelp explains fields of the head.
var cardHelp = map[string]string{
	"batch_id": wording.GluingBatchHelp, "opened_at": wording.GluingTimeHelp, "night_c": wording.GluingNightHelp,
}

// headBox is a field of the head of the card.
func (ch cardChoices) headBox(f wording.CardField) cardBox {
	b := cardBox{CardField: f, At: f.Name, Help: cardHelp[f.Name]}
	if f.Kind == wording.CardBatch {
		b.List = "on-hand"
		return b
	}
	b.Options = ch.options(f, option{Text: "Not recorded"})
	return b
}

// allBox is a field of the row that goes for all lines.
func (ch cardChoices) allBox(f wording.CardField) cardBox {
	return cardBox{CardField: f, At: allField(f.Name), Options: ch.options(f, option{Text: "Not recorded"})}
}

// lineBox is a field of the nth line, which may leave it to the row for all.
func (ch cardChoices) lineBox(n int, f wording.CardField) cardBox {
	b := cardBox{CardField: f, At: lineField(n, f.Name)}
	if !forAll(f.Name) {
		b.Options = ch.options(f, option{Text: "Not recorded"})
		return b
	}
	b.Like = "as for all"
	b.Options = ch.options(f, option{Text: "As for all"}, option{Value: "-", Text: "Not recorded"})
	return b
}

// options are what a field is chosen from, after those given; nil: it is typed.
func (ch cardChoices) options(f wording.CardField, before ...option) []option {
	switch f.Kind {
	case wording.CardChoice:
		return labelled(f.Choices, before...)
	case wording.CardPerson:
		return append(before, ch.Persons...)
	case wording.CardHardware:
		return append(before, ch.Hardware...)
	case wording.CardAdhesive:
		return append(before, ch.Adhesives...)
	case wording.CardBatch:
		return append(before, ch.Batches...)
	}
	return nil
}

// howOptions say how a temperature is known.
func howOptions() []option { return labelled(registry.HowReads(), option{Text: "How known?"}) }

// openYesNo are the answers to a question of the card.
func openYesNo() []option {
	return []option{{Text: "Not recorded"}, {Value: "yes", Text: "Yes"}, {Value: "no", Text: "No"}}
}

// cardChoices reads what the fields of a card can be chosen from, as far as
// whoever asks may see it.
func (p *Pages) cardChoices(c echo.Context, who registry.Actor) (cardChoices, error) {
	var ch cardChoices
	persons, err := p.persons(c, who)
	if err != nil {
		return ch, err
	}
	ch.Persons = personOptions(persons)[1:]
	products, err := p.catalogued(c, who)
	if err != nil {
		return ch, err
	}
	for _, product := range products {
		o := option{Value: product.ID.String(), Text: wording.ProductName(product)}
		switch product.Kind {
		case registry.Hardware:
			ch.Hardware = append(ch.Hardware, o)
		case registry.Adhesive:
			ch.Adhesives = append(ch.Adhesives, o)
		}
	}
	if !allowed(c, app.ListBatches) {
		return ch, nil
	}
	batches, err := everything(func(page registry.Page) ([]registry.Batch, error) {
		return p.service.Batches(c.Request().Context(), who, nil, page)
	}, func(b registry.Batch) uuid.UUID { return b.ID })
	ch.offer(batches, products)
	return ch, err
}

// catalogued lists the group's products in the catalogue, by name.
func (p *Pages) catalogued(c echo.Context, who registry.Actor) ([]registry.Product, error) {
	if !allowed(c, app.ListProducts) {
		return nil, nil
	}
	list, err := p.products(c.Request().Context(), who)
	return slices.DeleteFunc(list, func(x registry.Product) bool { return !x.EndedOn.IsZero() }), err
}

// offer makes choices of the batches on hand, but for those of hardware, those
// that expire first before the others.
func (ch *cardChoices) offer(batches []registry.Batch, products []registry.Product) {
	names := make(map[uuid.UUID]registry.Product, len(products))
	for _, p := range products {
		names[p.ID] = p
	}
	slices.SortFunc(batches, func(a, b registry.Batch) int {
		return cmp.Or(cmp.Compare(lastDay(a.ExpiresOn), lastDay(b.ExpiresOn)), strings.Compare(a.Text, b.Text))
	})
	for _, b := range batches {
		var product registry.Product
		if b.ProductID != nil {
			product = names[*b.ProductID]
		}
		if !b.EndedOn.IsZero() || product.Kind == registry.Hardware {
			continue
		}
		text := joinNamed(", ", b.Text, product.Name, wording.Expires(b.ExpiresOn))
		ch.Batches = append(ch.Batches, option{Value: b.ID.String(), Text: text})
		ch.OnHand = append(ch.OnHand, option{Value: b.Text, Text: text})
	}
}

// lastDay puts a batch whose expiry is not known after all others.
func lastDay(d calendar.Date) calendar.Date {
	if d.IsZero() {
		return calendar.Date(1<<31 - 1)
	}
	return d
}

// fieldState are the attributes of a field with something wrong in it or with
// help beside it.
func fieldState(f *form, b cardBox) templ.Attributes {
	state := templ.Attributes{}
	if f.wrong(b.At) != "" {
		state["aria-invalid"] = "true"
	}
	if described := describedBy(f, b.At, b.Help); described != "" {
		state["aria-describedby"] = described
	}
	return state
}

// inputKind are the attributes of a field of one line.
func inputKind(b cardBox) templ.Attributes {
	kind := templ.Attributes{"type": "text"}
	switch b.Kind {
	case wording.CardDay:
		kind["type"] = "date"
	case wording.CardNumber:
		kind["inputmode"] = "decimal"
	}
	if b.List != "" {
		kind["list"] = b.List
		kind["autocomplete"] = "off"
	}
	if b.Like != "" {
		kind["placeholder"] = b.Like
	}
	return kind
}

// openLine says whether something on the back of the nth line was typed or is
// wrong, so that it is shown.
func (p gluingPage) openLine(n int) bool {
	for _, f := range wording.MoreFields() {
		if name := lineField(n, f.Name); p.text(name) != "" || p.wrong(name) != "" {
			return true
		}
	}
	return false
}
