package web_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// glueWith posts the gluing form with a file for some of its fields, and follows
// to the page that says what was done.
func (b *browser) glueWith(form url.Values, files map[string]string) page {
	b.t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	for name, values := range form {
		for _, v := range values {
			if err := m.WriteField(name, v); err != nil {
				b.t.Fatal(err)
			}
		}
	}
	for name, data := range files {
		w, err := m.CreateFormFile(name, "IMG_1.png")
		if err == nil {
			_, err = w.Write([]byte(data))
		}
		if err != nil {
			b.t.Fatal(err)
		}
	}
	if err := m.Close(); err != nil {
		b.t.Fatal(err)
	}
	return b.follow(b.do(http.MethodPost, newGluing, m.FormDataContentType(), body.Bytes()))
}

// A picture of a line is its installation's and stands on the session's page; a
// line with a picture alone counts as set, and one that is no picture keeps
// nothing else from being recorded. Sent twice, there is one of each.
func TestPicturesOfAGluingForm(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 3)
	b := s.member(t, registry.RoleRecorder)
	form := b.get(newGluing+"?route="+w.route.String()).form(t, newGluing)
	form.Set("installations[0].set_at", "14:05")
	files := map[string]string{"installations[0].picture": shaded(t, 40), "installations[1].picture": shaded(t, 80)}
	for range 2 {
		done := b.glueWith(form, files)
		if done.status != http.StatusOK || !strings.Contains(done.text(), wording.RecordedGluing) {
			t.Fatalf("session with pictures = %d %s", done.status, done.text())
		}
		if n := len(web.All(done.doc, web.Tag("img"))); n != 2 {
			t.Errorf("%d pictures on the session's page, want 2", n)
		}
	}
	story, err := s.service.GluingSession(t.Context(), s.actor(registry.RoleReader), uuid.MustParse(form.Get("id")))
	if err != nil || len(story.Installations) != 2 {
		t.Fatalf("%d installations, %v; want 2", len(story.Installations), err)
	}
	for _, i := range story.Installations {
		list, err := s.service.Pictures(t.Context(), s.actor(registry.RoleReader), i.AnchorID, registry.Page{})
		if err != nil || len(list) != 1 || list[0].RecordID == nil || *list[0].RecordID != i.ID {
			t.Errorf("pictures of %v: %+v, %v; want one that names its installation", i.AnchorID, list, err)
		}
	}
}

func TestNoPictureOfAGluingForm(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 2)
	b := s.member(t, registry.RoleRecorder)
	form := b.get(newGluing+"?route="+w.route.String()).form(t, newGluing)
	form.Set("installations[0].set_at", "14:05")
	done := b.glueWith(form, map[string]string{"installations[0].picture": "GIF89a......"})
	if done.status != http.StatusOK || !strings.Contains(done.text(), wording.GluingNoPicture) || len(web.All(done.doc, web.Tag("img"))) != 0 {
		t.Errorf("session with what is no picture = %d %s", done.status, done.text())
	}
	long := b.glueWith(form, map[string]string{"installations[0].picture": strings.Repeat("x", 31<<20)})
	if long.status != http.StatusRequestEntityTooLarge || !strings.Contains(long.text(), "30 MiB") {
		t.Errorf("a form too long = %d %s", long.status, long.text())
	}
}
