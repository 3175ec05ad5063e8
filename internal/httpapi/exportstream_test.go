package httpapi

import (
	"errors"
	"io"
	"net/http/httptest"
	"strings"
	"testing"
)

// TestListStreamFails holds that a list that fails early is not begun, so that
// a problem can be answered, and that one that fails late says so: the error
// handler then cuts the connection.
func TestListStreamFails(t *testing.T) {
	t.Parallel()
	sentinel := errors.New("out of rope")
	for _, n := range []int{0, listBuffer - 1, listBuffer + 1} {
		w := httptest.NewRecorder()
		err := listStream(func(out io.Writer) error {
			_, err := io.WriteString(out, strings.Repeat("x", n))
			return errors.Join(err, sentinel)
		}).VisitExportAnchorListResponse(w)
		if !errors.Is(err, sentinel) {
			t.Errorf("after %d bytes: %v, want %v", n, err, sentinel)
		}
		if begun, late := w.Body.Len() > 0, n > listBuffer; begun != late || !late && w.Header().Get("Content-Type") != "" {
			t.Errorf("after %d bytes: begun %v with %v, want %v", n, begun, w.Header(), late)
		}
	}
}
