package httpapi_test

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"mime/multipart"
	"net/http"
	"net/textproto"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3filter"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
)

func init() { openapi3filter.RegisterBodyDecoder("image/jpeg", openapi3filter.FileBodyDecoder) }

// shaded is an invented picture, another for each shade.
func shaded(t *testing.T, shade byte) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = shade
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// pictureForm writes a form with a file of a media type and further fields.
func pictureForm(t *testing.T, file []byte, media string, fields ...string) (io.Reader, string) {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	part, err := w.CreatePart(textproto.MIMEHeader{
		"Content-Disposition": {`form-data; name="file"; filename="IMG_1.jpg"`}, "Content-Type": {media},
	})
	if err == nil {
		_, err = part.Write(file)
	}
	for i := 0; i+1 < len(fields) && err == nil; i += 2 {
		err = w.WriteField(fields[i], fields[i+1])
	}
	if err != nil || w.Close() != nil {
		t.Fatal(err)
	}
	return &b, w.FormDataContentType()
}

// picture sends a picture of the first anchor.
func (s *stack) picture(t *testing.T, token, anchor string, file []byte, media string, fields ...string) call {
	t.Helper()
	body, form := pictureForm(t, file, media, fields...)
	return call{method: http.MethodPost, target: "/v1/anchors/" + anchor + "/pictures", token: token, body: body, header: []string{"Content-Type", form}}
}

func TestPictures(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	recorder, reader := tokens[registry.RoleRecorder], tokens[registry.RoleReader]
	anchor := anyAnchor(t, s, reader)
	id := newID(t).String()
	var p api.Picture
	s.answer(t, s.picture(t, recorder, anchor, shaded(t, 40), "image/png", "id", id, "taken_on", "2026-05-02", "words", "The eye."), http.StatusCreated, &p)
	if p.Id.String() != id || p.Words != "The eye." || p.TakenOn.String() != "2026-05-02" || p.Width != 400 || p.Version != 1 {
		t.Errorf("added %+v", p)
	}
	var again api.Picture
	s.answer(t, s.picture(t, recorder, anchor, shaded(t, 40), "image/png"), http.StatusOK, &again)
	if again.Id != p.Id {
		t.Errorf("the same file again = %v, want %v", again.Id, p.Id)
	}
	var list api.PictureList
	s.get(t, "/v1/anchors/"+anchor+"/pictures", reader, &list)
	if len(list.Items) != 1 || list.Items[0].Hash != p.Hash {
		t.Errorf("listed %+v", list)
	}
	s.get(t, "/v1/pictures/"+id, reader, nil)

	for _, size := range app.PictureSizes() {
		w := s.get(t, "/v1/pictures/"+id+"/"+size, reader, nil)
		if _, err := jpeg.Decode(w.Body); err != nil {
			t.Errorf("size %s: %v", size, err)
		}
		for name, want := range map[string]string{
			"Content-Type": "image/jpeg", "Cache-Control": "private, no-cache", "X-Content-Type-Options": "nosniff", "ETag": `"` + p.Hash + "-" + size + `"`,
		} {
			if got := w.Header().Get(name); got != want {
				t.Errorf("size %s: %s %q, want %q", size, name, got, want)
			}
		}
		same := s.answer(t, call{
			method: http.MethodGet, target: "/v1/pictures/" + id + "/" + size, token: reader, header: []string{"If-None-Match", `"x", W/` + w.Header().Get("ETag")},
		}, http.StatusNotModified, nil)
		if same.Body.Len() != 0 || same.Header().Get("ETag") == "" {
			t.Errorf("size %s, still the same: %d bytes, tag %q", size, same.Body.Len(), same.Header().Get("ETag"))
		}
	}

	body := strings.NewReader(`{"ended_on":"2026-05-03","words":null}`)
	patch := call{
		method: http.MethodPatch, target: "/v1/pictures/" + id, token: tokens[registry.RoleSteward], body: body,
		header: []string{"Content-Type", "application/merge-patch+json", "If-Match", `"1"`},
	}
	var gone api.Picture
	s.answer(t, patch, http.StatusOK, &gone)
	if gone.Version != 2 || gone.Words != "" || gone.EndedOn.String() != "2026-05-03" {
		t.Errorf("withdrawn = %+v", gone)
	}
	s.answer(t, call{method: http.MethodGet, target: "/v1/pictures/" + id + "/small", token: reader}, http.StatusNotFound, nil)
}

func anyAnchor(t *testing.T, s *stack, token string) string {
	t.Helper()
	var list api.AnchorList
	s.get(t, "/v1/anchors", token, &list)
	return list.Items[0].Id.String()
}

func TestPictureRefusals(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	recorder := tokens[registry.RoleRecorder]
	anchor := anyAnchor(t, s, recorder)
	good := shaded(t, 40)
	for name, c := range map[string]struct {
		file   []byte
		media  string
		fields []string
		status int
		field  string
		text   string
	}{
		"a GIF named JPEG":      {[]byte("GIF89a......"), "image/jpeg", nil, 415, "file", "no JPEG, PNG or WebP"},
		"a page named JPEG":     {[]byte("<html><script>"), "image/jpeg", nil, 415, "file", "no JPEG, PNG or WebP"},
		"a PNG said to be JPEG": {good, "image/jpeg", nil, 422, "file", "another kind"},
		"cut short":             {good[:60], "image/png", nil, 422, "file", "cut short"},
		"empty":                 {nil, "image/png", nil, 422, "file", "Fill it in"},
		"no such day":           {good, "image/png", []string{"taken_on", "2026-02-30"}, 422, "taken_on", "no such day"},
		"tomorrow":              {good, "image/png", []string{"taken_on", "2026-05-04"}, 422, "taken_on", "ahead of today"},
		"no id":                 {good, "image/png", []string{"id", "7"}, 422, "id", "“7”"},
		"an unknown field":      {good, "image/png", []string{"colour", "red"}, 422, "colour", ""},
		"words twice":           {good, "image/png", []string{"words", "a", "words", "b"}, 422, "words", ""},
		"no such record":        {good, "image/png", []string{"record_id", newID(t).String()}, 422, "record_id", "not in this group"},
	} {
		var p api.Problem
		s.answer(t, s.picture(t, recorder, anchor, c.file, c.media, c.fields...), c.status, &p)
		if len(p.Violations) != 1 || p.Violations[0].Field != c.field || !strings.Contains(p.Violations[0].Text, c.text) {
			t.Errorf("%s: %+v, want %s, %q", name, p.Violations, c.field, c.text)
		}
	}
	var p api.Problem
	s.answer(t, s.picture(t, recorder, anchor, make([]byte, app.MaxPicture+1), "image/png"), http.StatusRequestEntityTooLarge, &p)
	if !strings.Contains(p.Detail, "15 MiB") {
		t.Errorf("a byte too long: %q", p.Detail)
	}
	s.answer(t, s.picture(t, recorder, anchor, make([]byte, 17<<20), "image/png"), http.StatusRequestEntityTooLarge, &p)
	if !strings.Contains(p.Detail, "15 MiB") {
		t.Errorf("a form too long: %q", p.Detail)
	}
	s.answer(t, s.picture(t, tokens[registry.RoleReader], anchor, good, "image/png"), http.StatusForbidden, nil)
	s.answer(t, s.picture(t, recorder, newID(t).String(), good, "image/png"), http.StatusNotFound, nil)
	s.answer(t, call{method: http.MethodPost, target: "/v1/anchors/" + anchor + "/pictures", token: recorder, body: bytes.NewReader(good), header: []string{"Content-Type", "image/png"}}, http.StatusUnsupportedMediaType, nil)
	// A list may be longer than a picture, nothing else so long.
	if w := s.enter(t, tokens[registry.RoleSteward], strings.Repeat("x", httpapi.MaxList)); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("a list longer than the longest = %d, want 413", w.Code)
	}
	words := call{method: http.MethodPost, target: "/v1/persons", token: tokens[registry.RoleSteward], body: object{"name": strings.Repeat("x", httpapi.MaxBody)}}
	s.answer(t, words, http.StatusRequestEntityTooLarge, nil)
}

// Another group learns nothing, not even that there is such a picture.
func TestPicturesOfAnotherGroup(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	other := s.group(t, "other-edge")[registry.RoleOwner]
	anchor := anyAnchor(t, s, tokens[registry.RoleReader])
	var p api.Picture
	s.answer(t, s.picture(t, tokens[registry.RoleRecorder], anchor, shaded(t, 40), "image/png"), http.StatusCreated, &p)
	for _, target := range []string{"/v1/pictures/%s", "/v1/pictures/%s/small", "/v1/anchors/%s/pictures"} {
		id := p.Id.String()
		if strings.Contains(target, "anchors") {
			id = anchor
		}
		theirs := s.answer(t, call{method: http.MethodGet, target: fmt.Sprintf(target, id), token: other}, http.StatusNotFound, nil)
		never := s.answer(t, call{method: http.MethodGet, target: fmt.Sprintf(target, newID(t)), token: other}, http.StatusNotFound, nil)
		if theirs.Body.String() != never.Body.String() {
			t.Errorf("%s tells %s from %s", target, theirs.Body, never.Body)
		}
	}
	s.answer(t, s.picture(t, other, anchor, shaded(t, 40), "image/png"), http.StatusNotFound, nil)
	s.answer(t, call{method: http.MethodGet, target: "/v1/pictures/" + p.Id.String() + "/small"}, http.StatusUnauthorized, nil)
}
