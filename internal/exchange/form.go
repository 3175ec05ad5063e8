package exchange

import (
	"regexp"
	"slices"
	"strings"

	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// form reads the type of the anchor, and whether it names a hanger.
func (r *reader) form(i int) {
	row := &r.list.Rows[i]
	row.FormWords = r.text(i, FieldType)
	if isUnknown(row.FormWords) {
		return
	}
	read := r.recall.forms.of(formSaid{row.FormWords, row.SiteKind == registry.Cave}, readType)
	if !read.understood {
		r.doubt(i, FieldType, registry.DoubtTypeNotRead)
	}
	row.Form, row.HasHanger = read.form, read.hanger
}

func readType(said formSaid) formRead {
	form, understood := readForm(said.text, said.inCave)
	return formRead{form, understood, hasHanger(said.text)}
}

// metal reads the metal as a set of grades.
func (r *reader) metal(i int) {
	row := &r.list.Rows[i]
	row.MetalWords = r.text(i, FieldMetal)
	if isUnknown(row.MetalWords) {
		return
	}
	read := r.recall.metals.of(row.MetalWords, readMetal)
	if !read.ok {
		r.doubt(i, FieldMetal, registry.DoubtMetalNotRead)
		return
	}
	row.Metal = read.set
}

func readMetal(text string) metalRead {
	set, err := metal.Parse(text)
	return metalRead{set, err == nil}
}

var noHanger = regexp.MustCompile(`\b(no|without|minus|missing) (a )?hangers?\b|\bhangers? (is |was )?(missing|gone|off|removed|stolen|left off)\b|\bhangerless\b`)

// hasHanger says whether the words name a hanger that is there.
func hasHanger(text string) bool {
	w := words(text)
	return hasWord(w, "hanger", "hangers", "hgr", "plate") && !noHanger.MatchString(w)
}

// formWord says which form its words mean. Common practice, no source.
type formWord struct {
	pattern *regexp.Regexp
	form    registry.Form
}

func word(pattern string, form registry.Form) formWord {
	return formWord{regexp.MustCompile(` (?:` + pattern + `) `), form}
}

var (
	gluedWords = regexp.MustCompile(` (?:\w*glued?|gluein|resin(?:ed)?|bonded|bond in|chemical(?:ly)?|epoxy|epoxied|adhesive|cemented|mortared) `)

	// Of a bonded anchor, the first that fits; otherwise its shape is not known.
	gluedForms = []formWord{
		word(`studs?|threaded rods?|rods?|threaded bars?|studding|all thread`, registry.BondedStud),
		word(`twisted|twist|twisted legs?|two legs?|two legged|2 legs?|double legs?`, registry.TwistedLeg),
		word(`staples?|u bolts?|u anchors?|u bars?`, registry.Staple),
		word(`eyes?|eyebolts?|eye bolts?|rings?|ringbolts?|ring bolts?|single legs?|single shanks?|single`, registry.SingleShank),
	}

	// Forms that hold by pressing, screwing or driving.
	dryForms = []formWord{
		word(`self ?drill\w*|self drilling \w+|self drill\w* \w+`, registry.SelfDrillSleeve),
		word(`concrete screws?|screw anchors?|screw bolts?|screw in|screw|screwbolts?`, registry.ConcreteScrew),
		word(`through ?bolts?|thru ?bolts?|throughbolts?|stud anchors?|stud bolts?`, registry.ThroughBolt),
		word(`wedge|wedges|wedge anchors?|wedge bolts?`, registry.WedgeAnchor),
		word(`sleeve anchors?|sleeve bolts?|sleeved bolts?`, registry.SleeveAnchor),
		word(`drive ?in|drive pins?|driven|hammer ?in|hammered|nail ?in|compression|compression bolts?|split shafts?|button ?heads?`, registry.DriveIn),
		word(`pitons?|pegs?`, registry.Piton),
	}

	// Words that only narrow the kind of hold.
	expansionWords = regexp.MustCompile(` (?:expansions?|expanding|expander|mechanical|drop ?in|torque bolts?) `)

	// Bonded by what they are, glue named or not.
	shapeForms = []formWord{
		word(`twisted legs?|twist legs?`, registry.TwistedLeg),
		word(`staples?|u bolts?|u anchors?`, registry.Staple),
	}
)

// readForm returns the form that a type's words mean, "" where they leave it
// open ("bolt"), and whether they were understood. Words that contradict each
// other (glued wedge) are not.
func readForm(text string, inCave bool) (form registry.Form, understood bool) {
	w := words(text)
	dry := firstForm(dryForms, w)
	if dry == "" && hasWord(w, "sleeve", "sleeves") {
		dry = registry.SleeveAnchor
		if inCave {
			dry = registry.SelfDrillSleeve
		}
	}
	if dry == "" && expansionWords.MatchString(w) {
		dry = registry.ExpansionBolt
	}
	glued := bondedForm(w)
	switch {
	case dry != "" && glued != "":
		return "", false
	case dry != "":
		return dry, true
	case glued != "":
		return glued, true
	}
	return "", isPlain(w)
}

// plainWords are understood, but say nothing of how an anchor holds.
var plainWords = []string{
	"bolt", "bolts", "anchor", "anchors", "hanger", "hangers", "hgr", "plate", "ring", "rings", "eye", "stud", "studs",
	"chain", "maillon", "old", "new", "existing", "original", "fixed", "spare", "metal", "steel", "stainless",
	"a", "the", "and", "with", "no", "without", "missing", "thread", "x",
}

var sizeWord = regexp.MustCompile(`^m?\d+(?:mm|in)?$`)

func isPlain(w string) bool {
	for f := range strings.FieldsSeq(w) {
		if !slices.Contains(plainWords, f) && !sizeWord.MatchString(f) {
			return false
		}
	}
	return true
}

// bondedForm returns the form of an anchor that is glued in by its words.
func bondedForm(w string) registry.Form {
	if shape := firstForm(shapeForms, w); shape != "" {
		return shape
	}
	if !gluedWords.MatchString(w) {
		return ""
	}
	if shape := firstForm(gluedForms, w); shape != "" {
		return shape
	}
	return registry.GlueIn
}

func firstForm(list []formWord, w string) registry.Form {
	for _, f := range list {
		if f.pattern.MatchString(w) {
			return f.form
		}
	}
	return ""
}
