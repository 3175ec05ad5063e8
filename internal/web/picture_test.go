package web_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// shaded is an invented picture, another for each shade.
func shaded(t *testing.T, shade byte) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 800, 400))
	for i := range img.Pix {
		img.Pix[i] = shade
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// picture posts the form for a picture, without a file if it is blank, and
// follows to the page that says what was done.
func (b *browser) picture(path, file string, fields ...string) page {
	b.t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	if file != "" {
		w, err := m.CreateFormFile("file", "IMG_1.jpg")
		if err == nil {
			_, err = w.Write([]byte(file))
		}
		if err != nil {
			b.t.Fatal(err)
		}
	}
	for i := 0; i+1 < len(fields); i += 2 {
		if err := m.WriteField(fields[i], fields[i+1]); err != nil {
			b.t.Fatal(err)
		}
	}
	if err := m.Close(); err != nil {
		b.t.Fatal(err)
	}
	return b.follow(b.do(http.MethodPost, path, m.FormDataContentType(), body.Bytes()))
}

// follow gets the page that an answer leads to, if it leads to one.
func (b *browser) follow(p page) page {
	b.t.Helper()
	if p.status != http.StatusSeeOther {
		return p
	}
	return b.get(p.header.Get("Location"))
}

// withAnchor is a stack with the sample list, and the page of one anchor.
func withAnchor(t *testing.T) (*stack, string) {
	t.Helper()
	s := newStack(t)
	steward := s.member(t, registry.RoleSteward)
	steward.enter(gutter)
	return s, steward.get("/g/fell-end/reports/suspect").anchorPath(t)
}

// anchorPath is the first link to an anchor.
func (p page) anchorPath(t *testing.T) string {
	t.Helper()
	for _, a := range web.All(p.doc, web.Tag("a")) {
		if href, _ := web.Attr(a, "href"); strings.Contains(href, "/anchors/") {
			return href
		}
	}
	t.Fatalf("no link to an anchor: %s", p.text())
	return ""
}

func TestAddPicture(t *testing.T) {
	t.Parallel()
	s, path := withAnchor(t)
	recorder, reader := s.member(t, registry.RoleRecorder), s.member(t, registry.RoleReader)
	done := recorder.picture(path+"/pictures", shaded(t, 40), "picture_words", "The eye from below.", "taken_on", "2026-05-02")
	if done.status != http.StatusOK || !strings.Contains(done.text(), wording.RecordedPicture) {
		t.Fatalf("add = %d %s", done.status, done.text())
	}
	again := recorder.picture(path+"/pictures", shaded(t, 40))
	if !strings.Contains(again.text(), wording.PictureBefore) {
		t.Errorf("the same file again: %s", again.text())
	}

	seen := reader.get(path)
	images := web.All(seen.doc, web.Tag("img"))
	if len(images) != 1 {
		t.Fatalf("%d pictures on the page, want 1", len(images))
	}
	for name, want := range map[string]string{"alt": "The eye from below.", "width": "320", "height": "160"} {
		if got, _ := web.Attr(images[0], name); got != want {
			t.Errorf("%s = %q, want %q", name, got, want)
		}
	}
	if strings.Contains(seen.body, `id="add-picture"`) || strings.Contains(seen.body, "/withdraw") {
		t.Error("a reader is offered to add or withdraw")
	}
	small, _ := web.Attr(images[0], "src")
	for _, href := range []string{small, strings.Replace(small, "/small", "/full", 1), strings.Replace(small, "/small", "/middle", 1)} {
		got := reader.get(href)
		if _, err := jpeg.Decode(strings.NewReader(got.body)); err != nil || got.status != http.StatusOK {
			t.Errorf("%s = %d, %v", href, got.status, err)
		}
		for name, want := range map[string]string{"Content-Type": "image/jpeg", "Cache-Control": "private, no-cache", "X-Content-Type-Options": "nosniff"} {
			if got.header.Get(name) != want {
				t.Errorf("%s: %s %q, want %q", href, name, got.header.Get(name), want)
			}
		}
		same := reader.do(http.MethodGet, href, "", nil, "If-None-Match", got.header.Get("ETag"))
		if same.status != http.StatusNotModified {
			t.Errorf("%s, still the same = %d, want 304", href, same.status)
		}
	}
	checkApart(t, s, small)
}

// checkApart holds that nobody else sees a picture: who is not signed in is sent
// to sign in, and a member of another group finds nothing, neither under their
// own group nor under this one.
func checkApart(t *testing.T, s *stack, small string) {
	t.Helper()
	if got := s.browser(t).get(small); strings.HasPrefix(got.header.Get("Content-Type"), "image/") {
		t.Errorf("without signing in: %d %s", got.status, got.header.Get("Content-Type"))
	}
	s.addAccount(t, "elsewhere@example.org", "other", registry.RoleOwner)
	other := s.browser(t)
	other.post("/sign-in", url.Values{"email": {"elsewhere@example.org"}, "password": {password}})
	for _, path := range []string{small, strings.Replace(small, "/g/fell-end/", "/g/other/", 1)} {
		if got := other.get(path); got.status != http.StatusNotFound {
			t.Errorf("another group, %s = %d, want 404", path, got.status)
		}
	}
}

func TestWithdrawPicture(t *testing.T) {
	t.Parallel()
	s, path := withAnchor(t)
	steward := s.member(t, registry.RoleSteward)
	steward.picture(path+"/pictures", shaded(t, 40))
	shown := steward.get(path)
	small, _ := web.Attr(web.All(shown.doc, web.Tag("img"))[0], "src")
	action := strings.Replace(small, "/small", "/withdraw", 1)
	if got := s.member(t, registry.RoleRecorder).post(action, url.Values{"version": {"1"}}); got.status != http.StatusForbidden {
		t.Errorf("a recorder withdraws = %d, want 403", got.status)
	}
	done := steward.follow(steward.post(action, shown.form(t, action)))
	if done.status != http.StatusOK || !strings.Contains(done.text(), wording.PictureWithdrawn) || len(web.All(done.doc, web.Tag("img"))) != 0 {
		t.Errorf("withdraw = %d %s", done.status, done.text())
	}
	if got := steward.picture(path+"/pictures", shaded(t, 40)); !strings.Contains(got.text(), wording.PictureGone) {
		t.Errorf("a withdrawn file again: %s", got.text())
	}
	if got := steward.get(small); got.status != http.StatusNotFound {
		t.Errorf("a withdrawn picture = %d, want 404", got.status)
	}
}

func TestPictureFormRejects(t *testing.T) {
	t.Parallel()
	s, path := withAnchor(t)
	recorder := s.member(t, registry.RoleRecorder)
	for name, c := range map[string]struct {
		file   string
		fields []string
		want   []string
	}{
		"a page":   {"<html>", []string{"picture_words", "Left eye"}, []string{"no JPEG, PNG or WebP", "Left eye"}},
		"nothing":  {"", []string{"picture_words", "Left eye"}, []string{"This is missing", "Left eye"}},
		"tomorrow": {shaded(t, 9), []string{"taken_on", "2999-01-01"}, []string{"ahead of today"}},
		"no day":   {shaded(t, 9), []string{"taken_on", "2026-02-30"}, []string{"no such day"}},
		"long":     {shaded(t, 9), []string{"picture_words", strings.Repeat("x", 4001)}, []string{"longer than is kept", "#picture_words"}},
	} {
		got := recorder.picture(path+"/pictures", c.file, c.fields...)
		if got.status != http.StatusUnprocessableEntity {
			t.Errorf("%s = %d, want 422", name, got.status)
		}
		if _, open := web.Attr(web.All(got.doc, web.Tag("details"), web.Has("id", "add-picture"))[0], "open"); !open {
			t.Errorf("%s: the form is folded", name)
		}
		for _, want := range c.want {
			if !strings.Contains(got.body, want) {
				t.Errorf("%s: page lacks %q", name, want)
			}
		}
	}
	if got := recorder.picture(path+"/pictures", strings.Repeat("x", 15<<20+1)); got.status != http.StatusRequestEntityTooLarge || !strings.Contains(got.text(), "15 MiB") {
		t.Errorf("a byte too long = %d %s", got.status, got.text())
	}
	if got := s.member(t, registry.RoleReader).picture(path+"/pictures", shaded(t, 9)); got.status != http.StatusForbidden {
		t.Errorf("a reader = %d, want 403", got.status)
	}
}
