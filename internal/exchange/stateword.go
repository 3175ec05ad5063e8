package exchange

import (
	"regexp"
	"slices"

	"rockledger/internal/registry"
)

// What words mean is common practice, no source.

func state(pattern string) *regexp.Regexp { return regexp.MustCompile(`^(?:` + pattern + `)$`) }

// stateWord says which state its words mean.
type stateWord struct {
	state   registry.ListState
	pattern *regexp.Regexp
}

// stateWords say what a state's words mean, as whole texts between separators.
var stateWords = []stateWord{
	{registry.StateRemoved, state(`(?:has been |was |been )?(?:removed|gone|taken out|pulled out|chopped|cut off)(?: by us)?`)},
	{registry.StateNotFound, state(`(?:bolt |anchor )?(?:not|never) (?:found|located|seen)|(?:can't|cannot|couldn't|could not|can not) (?:find|locate|be found)(?: it)?|(?:bolt |anchor )?missing|lost|not there`)},
	{registry.StateSpins, state(`spin(?:s|ning|ner)?|spinning (?:bolt|hanger|eye|anchor)|(?:bolt|hanger|eye|anchor|stud) (?:spins|spinning|rotates|rotating|turns|turning)|rotates|rotating|turns|turning|spins (?:freely|in hole|easily|slightly|a bit|a little)`)},
	{registry.StateCrackedGlue, state(`(?:cracked|cracking|broken|crumbling|loose) (?:glue|resin|adhesive|epoxy|mortar)|(?:glue|resin|adhesive|epoxy|mortar)(?: is)? (?:cracked|cracking|broken|crumbling)|cracks? in (?:the )?(?:glue|resin|adhesive)`)},
	{registry.StateHangerBent, state(`(?:hanger|plate)(?: is)? (?:bent|deformed|twisted)|(?:bent|deformed|twisted) (?:hanger|plate)`)},
	{registry.StateLooseNut, state(`(?:loose|slack) nut|nut(?: is)? (?:loose|slack|undone|backing off)|nut came loose`)},
	{registry.StateSurfaceRust, state(`(?:some |slight |light |a bit of |a little |minor )?(?:surface|superficial) (?:rust|corrosion)|(?:slightly|a bit|a little|lightly) rusty|(?:slight|light|minor) (?:rust|corrosion)|surface rusty`)},
	{registry.StateRusty, state(`(?:very |badly |quite |heavily )?(?:rusty|rusted|rusting|corroded)|(?:bad |heavy |some |severe )?(?:rust|corrosion)`)},
	{registry.StateOK, state(`ok|okay|o\.k|all ok|good|very good|fine|excellent|sound|solid|as new|like new|new|satisfactory|good condition|in good condition|no (?:problems?|issues?|faults?|rust|corrosion|defects?|cracks?|damage|movement)|not (?:bad|too bad|loose|spinning|cracked|rusty)|(?:doesn't|does not) (?:spin|turn|move)|all good|looks (?:ok|good|fine)|seems (?:ok|good|fine)|✓|✔|yes`)},
}

// replacedWords say that another anchor stands there now, but only with nothing
// or a date behind them: "replaced hanger 2019" leaves the anchor where it is.
var replacedWords = state(`(?:has been |was |been )?(?:replaced|renewed|rebolted|re-bolted|re-drilled)(?: (?:by|with) (?:a )?new(?: (?:bolt|anchor))?| by us)?(?: (?:in|on)\b)?[ :(-]*(.*)`)

// looseWords speak of something that moves without saying what.
var looseWords = state(`loose|(?:bolt|anchor|eye|hanger)(?: is)? loose|loose (?:bolt|anchor|eye|hanger)|wobbly|wobbles|moves|moving|bolt moves`)

// outWords may mean that the anchor is gone, or that something is wrong with
// one that is still there: a stripped thread, out of use.
var outWords = state(`out|pulled|stripped`)

// graveWords are looked for anywhere in words that are not known as a whole:
// what condemns an anchor must not pass for nothing. The first that fits counts.
var graveWords = []stateWord{
	{registry.StateSpins, grave(`spin\w*|spun|rotat\w*|turn(?:s|ing)`)},
	{registry.StateCrackedGlue, grave(`(?:crack|crumbl|broke|fail)\w* .*\b(?:glue|resin|adhesive|epoxy|mortar)|(?:glue|resin|adhesive|epoxy|mortar) .*\b(?:crack|crumbl|broke|fail)\w*`)},
	{registry.StateHangerBent, grave(`(?:bent|deform\w*|twisted) .*\b(?:hanger|plate)|(?:hanger|plate) .*\b(?:bent|deform\w*|twisted)`)},
	{registry.StateUnsafe, grave(`not (?:be )?used?|never use|(?:don't|dont|do not|not|never|can't|cannot) .*\b(?:use|clip|trust|load|ok|okay|good|safe|sound|solid|tight)|no (?:good|use)|avoid\w*`)},
	{registry.StateUnsafe, grave(`unsafe|unsound|unusable|unreliable|insecure|danger\w*|hazard\w*|lethal|death\w*|deadly|condemn\w*|suspect\w*|dodgy|dubious|doubtful|questionable|manky|scary|rotten|useless|weak|bad|badly|poor|poorly|terrible|awful`)},
	{registry.StateUnsafe, grave(`out of (?:use|order|action|service)|taped|tape|retired?|closed|blocked`)},
	{registry.StateUnsafe, grave(`crack\w*|snap\w*|shear\w*|broke\w*|fail\w*|fractur\w*|split|bent|deform\w*|damag\w*|defect\w*|faulty|stripped|ripped|pulled|popped|came out|coming out|corroded|(?:rust|corro|worn)\w* .*\b(?:through|away|out)`)},
	{registry.StateUnsafe, grave(`(?:replace|rebolt|re-bolt) .*\b(?:soon|asap|now|urgent\w*|immediately)|(?:needs?|to be|must be|should be|due|requires?|wants) .*\b(?:replac|renew|rebolt|re-bolt|remov)\w*`)},
	{registry.StateUnsafe, grave(`(?:nut|hanger|plate|washer|ring|chain|maillon|link|eye|head)s? .*\b(?:missing|gone|lost|off|stolen)|(?:missing|lost|no) .*\b(?:nut|hanger|plate|washer|ring|chain|maillon|link|eye|head)s?`)},
	{registry.StateLooseNut, grave(`loose .*nut|nut .*loose`)},
	{registry.StateUnsafe, grave(`loose\w*|wobbl\w*|mov(?:es|ing)`)},
}

// grave matches whole words anywhere in a text; ".*" takes words between.
func grave(pattern string) *regexp.Regexp {
	return regexp.MustCompile(`(?:^|\W)(?:` + pattern + `)(?:\W|$)`)
}

// gravity orders the states a cell may name side by side, gravest first, as the
// house rules weigh them.
var gravity = []registry.ListState{
	registry.StateReplaced, registry.StateRemoved, registry.StateSpins, registry.StateUnsafe,
	registry.StateCrackedGlue, registry.StateHangerBent, registry.StateNotFound, registry.StateLooseNut,
	registry.StateRusty, registry.StateOther, registry.StateSurfaceRust, registry.StateOK, "",
}

// graver says whether a weighs more than b.
func graver(a, b registry.ListState) bool { return slices.Index(gravity, a) < slices.Index(gravity, b) }
