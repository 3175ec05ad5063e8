package arch_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// unwanted are words that no file of the tree may hold: folders of one
// machine, hosts of package registries, tools that happened to be at hand, and
// papers that a reader of the tree does not have. They are in pieces here, so
// that this file does not hold them.
var unwanted = regexp.MustCompile(`(?i)` + strings.Join([]string{
	`/wo` + `rk/(main|shared|\.)`, `/ro` + `ot/`, `/ho` + `me/[a-z]`, `/Us` + `ers/[a-z]`, `\.\./sha` + `red/`,
	`proxy\.gol` + `ang\.org`, `sum\.gol` + `ang\.org`, `registry\.np` + `mjs`, `deb\.deb` + `ian\.org`, `pypi\.o` + `rg`,
	`\bcla` + `ude\b`, `\banth` + `ropic\b`, `\bop` + `enai\b`, `\bchat` + `gpt\b`, `\bcop` + `ilot\b`, `\bsub` + `agent`, `co-auth` + `ored-by`,
	`\bdes` + `ign\.md\b`, `\bsty` + `le\.md\b`, `\bsta` + `ck\.md\b`, `\breference/[a-z-]+` + `\.md\b`,
}, "|"))

// unread: lists of modules name many hosts that are nobody's machine.
var unread = []string{"go.sum", "tools.sum", "LICENSE"}

func TestWords(t *testing.T) {
	t.Parallel()
	dir := root(t)
	for _, name := range files(t, dir) {
		if slices.Contains(unread, filepath.Base(name)) {
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if bytes.IndexByte(text, 0) >= 0 { // no text: a picture, a binary
			continue
		}
		for i, line := range bytes.Split(text, []byte("\n")) {
			if word := unwanted.Find(line); word != nil {
				t.Errorf("%s:%d holds %q: say it without, the reader has no such thing", name, i+1, word)
			}
		}
	}
}
