package exchange

import "rockledger/internal/registry"

// roleWords say what an anchor is for, the first that fits. Common practice, no
// source.
var roleWords = []struct {
	role  registry.PositionRole
	words []string
}{
	{registry.YHangLeg, []string{"y hang", "yhang", "y hang leg", "y leg", "y hangs"}},
	{registry.Rebelay, []string{"rebelay", "re belay", "rebelays", "rebolt belay"}},
	{registry.Deviation, []string{"deviation", "deviations", "devi", "dev"}},
	{registry.MainHang, []string{"main hang", "mainhang", "main", "head of pitch", "pitch head", "pitchhead"}},
	{registry.Backup, []string{"backup", "back up", "backups", "safety"}},
	{registry.LowerOff, []string{"lower off", "loweroff", "lower offs", "abseil", "abseil point", "rappel", "rap", "rap anchor", "rap station", "lowering point", "top anchor"}},
	{registry.Belay, []string{"belay", "belays", "stance", "belay bolt"}},
	{registry.Traverse, []string{"traverse", "trav", "traverse line"}},
	{registry.Handline, []string{"handline", "hand line"}},
	{registry.Aid, []string{"aid", "aid bolt"}},
	{registry.Runner, []string{"runner", "runners", "protection", "pro", "lead bolt", "lead", "intermediate"}},
}

// roleOf returns the role that the words name, "" for none.
func roleOf(text string) registry.PositionRole {
	w := words(text)
	for _, r := range roleWords {
		if hasWord(w, r.words...) {
			return r.role
		}
	}
	return ""
}

// role reads the role from its column, else from the position's label.
func (r *reader) role(i int) {
	row := &r.list.Rows[i]
	text := r.text(i, FieldRole)
	row.Role = r.recall.roles.of(text, roleOf)
	if row.Role != "" {
		return
	}
	if !isUnknown(text) {
		r.doubt(i, FieldRole, registry.DoubtRoleNotRead)
	}
	row.Role = r.recall.roles.of(row.Label, roleOf)
}
