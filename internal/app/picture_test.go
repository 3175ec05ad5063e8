package app_test

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/folder"
	"rockledger/internal/registry"
)

// lonely is a list with a single anchor at an invented crag.
const lonely = "Site,Route,Anchor,Type,Material,Diameter,Date set\nGutter Edge,Slate Rib,1,glue-in,316L,12 mm,2016\n"

// drawing is an invented picture, a different one for each shade.
func drawing(t *testing.T, shade byte) registry.PictureFile {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = shade
	}
	img.SetGray(10, 10, color.Gray{Y: 255 - shade})
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return registry.PictureFile{Claimed: "image/png", Data: b.Bytes()}
}

func TestAddPicture(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, lonely)
	anchor, ctx := h.anchor(t, "1"), t.Context()
	sent := registry.Picture{AnchorID: anchor.ID, TakenOn: firstDay, Words: " The eye. \n"}
	p, created, err := h.AddPicture(ctx, h.as(registry.RoleRecorder), sent, drawing(t, 40))
	if err != nil || !created || p.Version != 1 || p.Words != "The eye." || p.Width != 400 || p.Height != 300 || p.RecordedAt.IsZero() {
		t.Fatalf("stored %+v, %v, %v", p, created, err)
	}
	if n := count(t, h, `SELECT count(*) FROM ledger WHERE noun = 'picture' AND row_id = $1 AND after LIKE '%' || $2 || '%'`, p.ID, p.Hash); n != 1 {
		t.Errorf("%d ledger rows with the hash, want 1", n)
	}

	again, created, err := h.AddPicture(ctx, h.who, registry.Picture{AnchorID: anchor.ID, Words: "other"}, drawing(t, 40))
	if err != nil || created || again != p {
		t.Errorf("the same file again = %+v, %v, %v; want the stored one", again, created, err)
	}
	if _, _, err := h.AddPicture(ctx, h.who, registry.Picture{ID: p.ID, AnchorID: anchor.ID}, drawing(t, 41)); fault.KindOf(err) != fault.Conflict {
		t.Errorf("the same id with another file: %v, want conflict", err)
	}

	list, err := h.Pictures(ctx, h.as(registry.RoleReader), anchor.ID, registry.Page{})
	if err != nil || len(list) != 1 || list[0] != p {
		t.Errorf("listed %+v, %v", list, err)
	}
	for _, size := range app.PictureSizes() {
		data, tag, err := h.PictureData(ctx, h.as(registry.RoleReader), p.ID, size)
		if c, bad := jpeg.DecodeConfig(bytes.NewReader(data)); err != nil || bad != nil || tag != p.Hash+"-"+size || c.Width > 400 {
			t.Errorf("size %s: %d bytes, %q, %v, %v", size, len(data), tag, err, bad)
		}
	}
}

func count(t *testing.T, h *house, sql string, args ...any) (n int) {
	t.Helper()
	if err := h.db.Owner().QueryRow(t.Context(), sql, args...).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// A withdrawn picture stays in the register but is not shown.
func TestChangePicture(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, lonely)
	ctx := t.Context()
	p, _, err := h.AddPicture(ctx, h.who, registry.Picture{AnchorID: h.anchor(t, "1").ID}, drawing(t, 40))
	if err != nil {
		t.Fatal(err)
	}
	withdraw := func(n *registry.Picture) error {
		n.EndedOn, n.Hash, n.AnchorID, n.Width = firstDay, "else", uuid.Nil, 1
		return nil
	}
	if _, err := h.ChangePicture(ctx, h.as(registry.RoleRecorder), p.ID, 1, withdraw); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a recorder withdraws: %v, want forbidden", err)
	}
	gone, err := h.ChangePicture(ctx, h.as(registry.RoleSteward), p.ID, 1, withdraw)
	want := p
	want.EndedOn, want.Version = firstDay, 2
	if err != nil || gone != want {
		t.Errorf("withdrawn = %+v, %v; want %+v", gone, err, want)
	}
	if _, _, err := h.PictureData(ctx, h.who, p.ID, "small"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("what a withdrawn picture shows: %v, want not found", err)
	}
	if got, err := h.Picture(ctx, h.who, p.ID); err != nil || got != want {
		t.Errorf("read = %+v, %v", got, err)
	}
}

func TestPictureRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, lonely)
	anchor, ctx, nobody := h.anchor(t, "1").ID, t.Context(), uuid.Must(uuid.NewV7())
	good, bad := drawing(t, 40), registry.PictureFile{Claimed: "image/jpeg", Data: []byte("<html>")}
	for _, c := range []struct {
		name  string
		n     registry.Picture
		file  registry.PictureFile
		field string
		code  fault.Code
	}{
		{"a page", registry.Picture{AnchorID: anchor}, bad, "file", fault.Unknown},
		{"taken tomorrow", registry.Picture{AnchorID: anchor, TakenOn: firstDay.AddDays(1)}, good, "taken_on", fault.DateAhead},
		{"no such person", registry.Picture{AnchorID: anchor, PersonID: &nobody}, good, "person_id", fault.NoSuchReference},
		{"no such record", registry.Picture{AnchorID: anchor, RecordID: &nobody}, good, "record_id", fault.NoSuchReference},
	} {
		_, _, err := h.AddPicture(ctx, h.who, c.n, c.file)
		violated(t, c.name, err, c.field, c.code)
	}
	_, _, err := h.AddPicture(ctx, h.who, registry.Picture{AnchorID: anchor, TakenOn: firstDay.AddDays(1)}, bad)
	if e, ok := fault.As(err); !ok || len(e.Violations) != 2 {
		t.Errorf("two things wrong: %v, want both named", err)
	}
	if _, _, err := h.AddPicture(ctx, h.as(registry.RoleReader), registry.Picture{AnchorID: anchor}, good); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a reader: %v, want forbidden", err)
	}
	objection := fault.New(fault.Invalid, "objected to")
	if _, _, err := h.AddPicture(app.Objecting(ctx, objection), h.who, registry.Picture{AnchorID: anchor}, good); err == nil {
		t.Error("what was objected to is stored")
	}
	if n := count(t, h, `SELECT count(*) FROM picture_data`) + count(t, h, `SELECT count(*) FROM picture`); n != 0 {
		t.Errorf("%d rows of what was refused", n)
	}
	if _, _, err := h.AddPicture(ctx, h.who, registry.Picture{AnchorID: anchor, RecordID: of(h.inspect(t, anchor))}, good); err != nil {
		t.Errorf("of a record of the anchor: %v", err)
	}
}

// inspect records an inspection and returns its id.
func (h *house) inspect(t *testing.T, anchor uuid.UUID) uuid.UUID {
	t.Helper()
	r, _, err := h.RecordInspection(t.Context(), h.who, registry.Inspection{
		Record: registry.Record{ID: uuid.Must(uuid.NewV7()), AnchorID: anchor, DoneOn: calendar.Exactly(firstDay)},
		Level:  registry.Glance, Ticked: true,
	})
	if err != nil {
		t.Fatal(err)
	}
	return r.ID
}

// Another group's picture and anchor are like ones that never were, in every
// store.
func TestPicturesStayInTheirGroup(t *testing.T) {
	t.Parallel()
	for name, options := range map[string]func(*house) []func(*app.Service){
		"database": func(*house) []func(*app.Service) { return nil },
		"folder": func(*house) []func(*app.Service) {
			f, err := folder.Open(t.TempDir())
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { _ = f.Close() })
			return []func(*app.Service){app.PicturesIn(f)}
		},
	} {
		h := newHouse(t)
		h.Service = app.New(h.store, func() time.Time { return *h.clock.Load() }, options(h)...)
		h.enter(t, lonely)
		ctx, other := t.Context(), h.addGroup(t, "other-anchors")
		anchor := h.anchor(t, "1").ID
		p, _, err := h.AddPicture(ctx, h.who, registry.Picture{AnchorID: anchor}, drawing(t, 40))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if data, _, err := h.PictureData(ctx, h.who, p.ID, "middle"); err != nil || len(data) == 0 {
			t.Errorf("%s: own picture: %d bytes, %v", name, len(data), err)
		}
		for what, ask := range map[string]func(context.Context) error{
			"data":    func(ctx context.Context) error { _, _, err := h.PictureData(ctx, other, p.ID, "middle"); return err },
			"picture": func(ctx context.Context) error { _, err := h.Picture(ctx, other, p.ID); return err },
			"list":    func(ctx context.Context) error { _, err := h.Pictures(ctx, other, anchor, registry.Page{}); return err },
			"add": func(ctx context.Context) error {
				_, _, err := h.AddPicture(ctx, other, registry.Picture{AnchorID: anchor}, drawing(t, 40))
				return err
			},
			"size": func(ctx context.Context) error { _, _, err := h.PictureData(ctx, h.who, p.ID, "huge"); return err },
		} {
			if err := ask(ctx); fault.KindOf(err) != fault.NotFound {
				t.Errorf("%s: %s of another group: %v, want not found", name, what, err)
			}
		}
	}
}

// A picture waits for the one before, and gives up when nobody waits for it.
func TestAddPictureGivesUp(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, lonely)
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, _, err := h.AddPicture(ctx, h.who, registry.Picture{AnchorID: h.anchor(t, "1").ID}, drawing(t, 40)); fault.KindOf(err) != fault.Busy {
		t.Errorf("with nobody waiting: %v, want busy", err)
	}
}
