package pglocal

import (
	"strings"
	"sync"
)

// tailSize is how much of a program's output is kept, in bytes.
const tailSize = 8 << 10

// tail keeps the end of what is written to it.
type tail struct {
	mu   sync.Mutex
	text []byte
}

// Write never fails.
func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.text = append(t.text, p...)
	if over := len(t.text) - tailSize; over > 0 {
		t.text = append(t.text[:0], t.text[over:]...)
	}
	return len(p), nil
}

// String returns what was kept.
func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return string(t.text)
}

// lastLine returns the last line that says something, FATAL lines first, since
// postgres adds hints and farewells after them.
func lastLine(text string) string {
	last := "it said nothing"
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if _, fatal, ok := strings.Cut(line, "FATAL:"); ok {
			return strings.TrimSpace(fatal)
		}
		if line != "" {
			last = line
		}
	}
	return last
}
