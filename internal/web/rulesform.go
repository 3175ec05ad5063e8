package web

import (
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// rulesFormPage is the form that changes house rules, with what they would do
// once that was looked at.
type rulesFormPage struct {
	*form
	Frame  frame
	Action string
	Stale  string // what came into force meanwhile; blank: nothing
	Parts  []rulesPart
	Looked bool     // what follows is filled in
	Change []string // row by row
	Counts []string
	First  string // heading of the moves
	Moves  []rulesMove
}

// rulesMove is what would become of one anchor.
type rulesMove struct{ Href, Spot, Path, Text string }

func (p *Pages) rulesForm(c echo.Context) error {
	who, err := mayAdd(c, app.SetHouseRules)
	if err != nil {
		return err
	}
	d, err := p.rulesDraft(c, who, newForm())
	if err != nil {
		return err
	}
	return d.show(c, p, http.StatusOK, nil)
}

// enterRules shows what other house rules would do and, once that was looked at,
// adopts them.
func (p *Pages) enterRules(c echo.Context) error {
	who, err := mayAdd(c, app.SetHouseRules)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	d, err := p.rulesDraft(c, who, f)
	if err != nil {
		return err
	}
	if d.stale != "" {
		return d.show(c, p, http.StatusConflict, nil)
	}
	adopt := f.text("step") == "adopt" && f.text("seen") == d.seen()
	text, err := d.rules()
	if err == nil {
		err = d.check(adopt)
	}
	var made report.RulesPreview
	ctx := c.Request().Context()
	if err == nil && adopt {
		_, err = p.service.SetHouseRules(ctx, who, text, d.version)
	} else if err == nil {
		made, err = p.service.PreviewHouseRules(ctx, who, text)
	}
	if fault.KindOf(err) == fault.Stale {
		if d, err = p.rulesDraft(c, who, f); err != nil {
			return err
		}
		return d.show(c, p, http.StatusConflict, nil)
	}
	switch bad, err := f.reject(ofRule(err)); {
	case err != nil:
		return err
	case bad:
		return d.show(c, p, f.status(), nil)
	case !adopt:
		return d.show(c, p, http.StatusOK, &made)
	}
	return c.Redirect(http.StatusSeeOther, p.base(c)+"/house-rules?done=rules")
}

// rulesDraft is a form beside the house rules in force.
type rulesDraft struct {
	*form
	text    []byte // of the rules in force
	version int
	parts   []rulesPart
	stale   string
	changed map[string]string // what was typed, by the path of each row that it changes
}

// rulesDraft reads the house rules in force and what a form changes of those it
// was filled in from. What it leaves as it was becomes what is in force.
func (p *Pages) rulesDraft(c echo.Context, who registry.Actor, f *form) (*rulesDraft, error) {
	d := &rulesDraft{form: f, changed: make(map[string]string)}
	var err error
	if d.text, d.version, err = p.service.HouseRules(c.Request().Context(), who); err != nil {
		return nil, err
	}
	if d.parts, err = rulesParts(d.text); err != nil {
		return nil, err
	}
	if err := besideDefaults(d.parts); err != nil {
		return nil, err
	}
	read := byPath(d.parts)
	if v := f.text("version"); v != "" && v != strconv.Itoa(d.version) {
		if read, err = p.rulesRead(c, who, v); err != nil {
			return nil, err
		}
		n, _ := strconv.Atoi(v)
		d.stale = wording.RulesStale(n, d.version)
	}
	d.take(read)
	return d, nil
}

// rulesRead finds the rows of an older version by path; none if it is not listed
// any more.
func (p *Pages) rulesRead(c echo.Context, who registry.Actor, version string) (map[string]*ruleRow, error) {
	list, err := p.service.RulesVersions(c.Request().Context(), who)
	if err != nil {
		return nil, err
	}
	var w rulesWalk
	for _, v := range list {
		if strconv.Itoa(v.Version) == version {
			err = w.walk(nil, nil, "", v.Text)
		}
	}
	return byPath(w.parts), err
}

// take tells what was changed from what was left as it was read.
func (d *rulesDraft) take(read map[string]*ruleRow) {
	d.Values.Set("version", strconv.Itoa(d.version))
	for _, r := range rowsIn(d.parts) {
		if r.Raw == "" {
			continue
		}
		typed, sent := figures.Replace(d.form.text(r.Path)), d.Values.Has(r.Path)
		left := read[r.Path] != nil && typed == read[r.Path].Raw
		if !sent || left || typed == r.Raw {
			d.Values.Set(r.Path, r.Raw)
			continue
		}
		d.changed[r.Path], r.InForce = typed, wording.RuleInForce(r.Value)
	}
}

// seen tells apart what was looked at from what was changed since.
func (d *rulesDraft) seen() string {
	parts := []string{strconv.Itoa(d.version)}
	for _, path := range slices.Sorted(maps.Keys(d.changed)) {
		parts = append(parts, path+"="+d.changed[path])
	}
	return strings.Join(parts, ";")
}

// check wants something to be changed, and a reason for what is adopted.
func (d *rulesDraft) check(adopt bool) error {
	reason := d.form.text("reason")
	d.checks.Require(!adopt || reason != "", "reason", fault.Blank)
	d.checks.Require(len(reason) <= registry.MaxWords, "reason", fault.TooLong, "max", strconv.Itoa(registry.MaxWords))
	if len(d.changed) == 0 {
		d.Wrong = append(d.Wrong, wrongField{"", wording.RulesNothing})
		return fault.New(fault.Invalid, "house rules with nothing changed")
	}
	return d.checks.Err()
}

// rules are those in force with what was changed, each with the reason as its
// source.
func (d *rulesDraft) rules() ([]byte, error) {
	reader := json.NewDecoder(strings.NewReader(string(d.text)))
	reader.UseNumber() // a float would not come back as it was
	var tree map[string]any
	if err := reader.Decode(&tree); err != nil {
		return nil, fmt.Errorf("read house rules: %w", err)
	}
	reason := d.form.text("reason")
	if reason == "" {
		reason = wording.RulesNoReason // for a look; what is adopted gives one
	}
	rows := byPath(d.parts)
	for path, typed := range d.changed {
		var value any = typed
		if rows[path].Options == nil {
			n, err := strconv.Atoi(typed)
			d.checks.Require(err == nil, path, fault.NotWhole, "text", typed)
			value = n
		}
		putRule(tree, strings.Split(path, "."), map[string]any{"value": value, "source": reason})
	}
	text, err := json.Marshal(tree)
	if err == nil {
		err = d.checks.Err()
	}
	return text, err
}

// putRule sets the leaf at a path that is there.
func putRule(tree map[string]any, path []string, leaf any) {
	for ; len(path) > 1; path = path[1:] {
		under, isTable := tree[path[0]].(map[string]any)
		if !isTable {
			return
		}
		tree = under
	}
	tree[path[0]] = leaf
}

// ofRule names the fields of the form in what is wrong with house rules.
func ofRule(err error) error {
	e, known := fault.As(err)
	if !known || len(e.Violations) == 0 {
		return err
	}
	var c fault.Checks
	for _, v := range e.Violations {
		v.Field = strings.TrimSuffix(strings.TrimSuffix(v.Field, ".value"), ".source")
		c.Add(v)
	}
	return c.Err()
}

func (d *rulesDraft) show(c echo.Context, p *Pages, status int, made *report.RulesPreview) error {
	page := rulesFormPage{form: d.form, Frame: p.framed(c, "Change the house rules"), Stale: d.stale, Parts: d.parts}
	page.Action = page.Frame.Base + "/house-rules/change"
	for i := range page.Parts {
		page.Parts[i].Open = d.touched(&page.Parts[i])
	}
	d.Values.Del("seen")
	if made != nil {
		page.look(d, made)
	}
	return render(c, status, rulesFormView(page))
}

// touched says whether anything was changed in a part, or is wrong with it.
func (d *rulesDraft) touched(part *rulesPart) bool {
	for _, r := range rowsIn([]rulesPart{*part}) {
		if r.InForce != "" || d.wrong(r.Path) != "" {
			return true
		}
	}
	return false
}

// look fills in what the changed rules would do.
func (page *rulesFormPage) look(d *rulesDraft, made *report.RulesPreview) {
	page.Looked, page.Counts = true, wording.RulesWouldMove(wording.RulesMoves{
		Anchors: made.Anchors, Earlier: made.DueEarlier, Later: made.DueLater, Unchanged: made.Unchanged,
		OverdueNow: made.OverdueNow, OverdueThen: made.OverdueThen,
	})
	for _, m := range made.StandingMoves {
		page.Counts = append(page.Counts, wording.StandingMoves(m.From, m.To, m.Count))
	}
	d.Values.Set("seen", d.seen())
	for _, r := range rowsIn(d.parts) {
		if typed, changed := d.changed[r.Path]; changed {
			page.Change = append(page.Change, wording.RuleChanged(wording.RulePath(r.Path), r.Value, r.told(typed)))
		}
	}
	page.First = wording.RulesFirst(len(made.First), made.Moving)
	for i := range made.First {
		row := rowOf(page.Frame.Base, made.First[i].Line)
		page.Moves = append(page.Moves, rulesMove{row.Href, row.Spot, row.Path, strings.Join(wording.WouldStand(made.First[i].Line.Assessment, made.First[i].Then), " ")})
	}
}

// isRule says whether a field is that of a row of the house rules.
func isRule(name string) bool {
	shipped, err := shippedRows()
	return err == nil && shipped[name] != nil
}

// told says what was typed as the rules are shown.
func (r *ruleRow) told(typed string) string {
	if r.Options != nil {
		return strings.ToLower(wording.Label(typed))
	}
	if r.Unit != "" {
		return typed + " " + r.Unit
	}
	return typed
}
