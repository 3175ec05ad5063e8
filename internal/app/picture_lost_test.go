package app_test

import (
	"os"
	"path/filepath"
	"testing"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/folder"
	"rockledger/internal/registry"
)

// A picture whose files were lost says so, and the same file sent again puts
// them back. What was kept in the database before there was a folder is still
// read.
func TestLostPicture(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, lonely)
	ctx, anchor, dir := t.Context(), h.anchor(t, "1").ID, t.TempDir()
	before, _, err := h.AddPicture(ctx, h.who, registry.Picture{AnchorID: anchor}, drawing(t, 40))
	if err != nil {
		t.Fatal(err)
	}
	f, err := folder.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	}()
	s := app.New(h.store, h.now, app.PicturesIn(f))
	if _, _, err := s.PictureData(ctx, h.who, before.ID, "small"); err != nil {
		t.Errorf("kept in the database before: %v, want it read", err)
	}
	p, _, err := s.AddPicture(ctx, h.who, registry.Picture{AnchorID: anchor}, drawing(t, 50))
	if err != nil {
		t.Fatal(err)
	}
	lost := filepath.Join(dir, h.who.GroupID.String(), p.Hash[:2], p.Hash+"-small.jpg")
	if err := os.Remove(lost); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.PictureData(ctx, h.who, p.ID, "small"); fault.KindOf(err) != fault.Internal || fault.CodeOf(err) != fault.PictureLost {
		t.Errorf("a lost file: %v, want it said and logged as lost", err)
	}
	again, created, err := s.AddPicture(ctx, h.who, registry.Picture{AnchorID: anchor}, drawing(t, 50))
	if err != nil || created || again != p {
		t.Errorf("sent again = %+v, %v, %v; want the stored one", again, created, err)
	}
	if data, _, err := s.PictureData(ctx, h.who, p.ID, "small"); err != nil || len(data) == 0 {
		t.Errorf("after it was sent again: %d bytes, %v", len(data), err)
	}
	if _, err := h.db.Owner().Exec(ctx, `DELETE FROM picture_data WHERE hash = $1 AND size = 'full'`, before.Hash); err != nil {
		t.Fatal(err)
	}
	if _, created, err := h.AddPicture(ctx, h.who, registry.Picture{AnchorID: anchor}, drawing(t, 40)); err != nil || created {
		t.Errorf("sent again to the database: %v, %v", created, err)
	}
	if _, _, err := h.PictureData(ctx, h.who, before.ID, "full"); err != nil {
		t.Errorf("full size after it was sent again: %v", err)
	}
}
