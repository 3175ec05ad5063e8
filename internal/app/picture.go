package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/picture"
	"rockledger/internal/registry"
)

// MaxPicture is the longest file of a picture, in bytes.
const MaxPicture = picture.MaxBytes

// PictureMedia lists the media types that a picture may have.
func PictureMedia() []string { return picture.Media() }

// PictureSizes lists the sizes that are kept of a picture, largest first.
func PictureSizes() []string {
	var list []string
	for _, s := range picture.Sizes() {
		list = append(list, string(s))
	}
	return list
}

// NoPicture says whether a file was refused for one reason alone: it is no
// picture of the kinds that are taken.
func NoPicture(err error) bool {
	e, ok := fault.As(err)
	return ok && len(e.Violations) == 1 && e.Violations[0].Values["why"] == picture.WhyKind
}

var pictures = noun[registry.Picture]{
	what: "picture", add: AddPicture, change: ChangePicture, read: Store.Picture,
	key:  func(n *registry.Picture) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy: func(n *registry.Picture) { n.Words = strings.TrimSpace(n.Words) },
	check: func(d *desk, before, n *registry.Picture) {
		if before != nil {
			n.AnchorID, n.Hash, n.Width, n.Height, n.RecordedAt = before.AnchorID, before.Hash, before.Width, before.Height, before.RecordedAt
		}
		d.Nest("", n.Validate(d.asOf))
		story, err := d.s.store.AnchorStory(d.ctx, d.who.GroupID, n.AnchorID)
		d.Nest("", err)
		if n.RecordID != nil && err == nil {
			d.Require(hasRecord(&story.Facts, *n.RecordID), "record_id", fault.NoSuchReference)
		}
		if n.PersonID != nil {
			has(d, "person_id", *n.PersonID, Store.Person)
		}
	},
	put: func(c *registry.Change, n registry.Picture) { c.Pictures = append(c.Pictures, n) },
}

// hasRecord says whether a record of any kind is among an anchor's facts.
func hasRecord(f *registry.Facts, id uuid.UUID) bool {
	return recorded(f.Installations, id, func(r *registry.Installation) uuid.UUID { return r.ID }) ||
		recorded(f.Cures, id, func(r *registry.Cure) uuid.UUID { return r.ID }) ||
		recorded(f.FirstUses, id, func(r *registry.FirstUse) uuid.UUID { return r.ID }) ||
		recorded(f.Inspections, id, func(r *registry.Inspection) uuid.UUID { return r.ID }) ||
		recorded(f.Maintenance, id, func(r *registry.Maintenance) uuid.UUID { return r.ID }) ||
		recorded(f.Removals, id, func(r *registry.Removal) uuid.UUID { return r.ID }) ||
		recorded(f.Markings, id, func(r *registry.Marking) uuid.UUID { return r.ID })
}

func recorded[R any](list []R, id uuid.UUID, of func(*R) uuid.UUID) bool {
	return slices.ContainsFunc(list, func(r R) bool { return of(&r) == id })
}

// AddPicture makes the pictures that are kept of a file, keeps them, and stores
// what is known of them; a file is never kept as it was sent. The same file
// again, for the same anchor, answers the stored picture and created = false,
// whatever else is said of it; where what is kept of it was lost, it is kept
// again. Otherwise the terms of AddSite hold; an anchor
// that is not there is fault.NotFound, and a file that is refused is
// fault.TooLarge or fault.Invalid with a violation of "file".
//
// One file is unpacked at a time; others wait, or return fault.Busy when ctx
// ends.
func (s *Service) AddPicture(ctx context.Context, who registry.Actor, n registry.Picture, file registry.PictureFile) (stored registry.Picture, created bool, err error) {
	var none registry.Picture
	if err := may(who, AddPicture); err != nil {
		return none, false, err
	}
	n.Hash, n.EndedOn, n.RecordedAt = picture.HashOf(file.Data), 0, s.instant()
	switch have, err := s.store.PictureOf(ctx, who.GroupID, n.AnchorID, n.Hash); {
	case err == nil:
		return have, false, s.healPicture(ctx, who, have, file)
	case fault.KindOf(err) != fault.NotFound:
		return none, false, fmt.Errorf("add picture: %w", err)
	}
	made, err := s.preparePicture(ctx, who, &n, file)
	if err != nil {
		return none, false, fmt.Errorf("add picture of anchor %v: %w", n.AnchorID, err)
	}
	if err := s.pictures.KeepPicture(ctx, who.GroupID, n.Hash, made); err != nil {
		return none, false, fmt.Errorf("add picture of anchor %v: %w", n.AnchorID, err)
	}
	stored, created, err = addNoun(ctx, s, who, n, pictures)
	if fault.CodeOf(err) == fault.Duplicate { // the same file came in meanwhile
		stored, err = s.store.PictureOf(ctx, who.GroupID, n.AnchorID, n.Hash)
	}
	return stored, created, err
}

// healPicture keeps what a picture is made of once more, where some of it is
// kept no longer. have is the picture as stored, of the same file.
func (s *Service) healPicture(ctx context.Context, who registry.Actor, have registry.Picture, file registry.PictureFile) error {
	whole, err := s.pictures.HasPicture(ctx, who.GroupID, have.Hash, PictureSizes())
	if err == nil && !whole && have.EndedOn.IsZero() {
		var made map[string][]byte
		if made, err = s.unpack(ctx, &fault.Checks{}, &have, file); err == nil {
			err = s.pictures.KeepPicture(ctx, who.GroupID, have.Hash, made)
		}
	}
	if err != nil {
		return fmt.Errorf("keep picture %v again: %w", have.ID, err)
	}
	return nil
}

// preparePicture checks all that is said of a picture before the file is unpacked, and
// reports what is wrong with either.
func (s *Service) preparePicture(ctx context.Context, who registry.Actor, n *registry.Picture, file registry.PictureFile) (map[string][]byte, error) {
	d := s.newDesk(ctx, who)
	pictures.check(d, nil, n)
	if err := d.Err(); err != nil && fault.KindOf(err) != fault.Invalid {
		return nil, err
	}
	return s.unpack(ctx, &d.Checks, n, file)
}

// unpack makes what is kept of a file, unless that or something in c is wrong.
func (s *Service) unpack(ctx context.Context, c *fault.Checks, n *registry.Picture, file registry.PictureFile) (map[string][]byte, error) {
	select {
	case s.unpacking <- struct{}{}:
		defer func() { <-s.unpacking }()
	case <-ctx.Done():
		return nil, fault.Wrap(fault.Busy, ctx.Err(), "wait for the picture before")
	}
	made, err := picture.Prepare(file.Claimed, file.Data)
	c.Nest("", err)
	if err := c.Err(); err != nil {
		return nil, err
	}
	n.Width, n.Height = made.Width, made.Height
	sizes := make(map[string][]byte, len(made.JPEG))
	for size, data := range made.JPEG {
		sizes[string(size)] = data
	}
	return sizes, Objection(ctx)
}

// ChangePicture changes what is said of a picture, by the terms of ChangeSite,
// or withdraws it. Its anchor and what is to be seen stay.
func (s *Service) ChangePicture(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Picture) error) (registry.Picture, error) {
	return changeNoun(ctx, s, who, id, version, edit, pictures)
}

// Pictures lists the pictures of one anchor, those withdrawn too. An anchor
// that is not there is fault.NotFound.
func (s *Service) Pictures(ctx context.Context, who registry.Actor, anchor uuid.UUID, page registry.Page) ([]registry.Picture, error) {
	return list(who, ListPictures, page, func(p registry.Page) ([]registry.Picture, error) {
		found, err := s.store.Pictures(ctx, who.GroupID, anchor, p)
		if err == nil && len(found) == 0 {
			_, err = s.store.AnchorStory(ctx, who.GroupID, anchor)
		}
		return found, err
	})
}

// Picture returns what is known of one picture, or fault.NotFound.
func (s *Service) Picture(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Picture, error) {
	return one(who, GetPicture, func() (registry.Picture, error) { return s.store.Picture(ctx, who.GroupID, id) })
}

// PictureData returns one size of a picture as JPEG, with what tells it from
// every other. A picture that is withdrawn or another group's, like one that
// never was and a size that there is not, is fault.NotFound; one whose file is
// not where pictures are kept is fault.Internal with code fault.PictureLost. What
// a folder does not have is looked for in the store, where pictures were kept
// before there was a folder.
func (s *Service) PictureData(ctx context.Context, who registry.Actor, id uuid.UUID, size string) (data []byte, tag string, err error) {
	n, err := one(who, GetPictureFile, func() (registry.Picture, error) { return s.store.Picture(ctx, who.GroupID, id) })
	if err != nil {
		return nil, "", err
	}
	if !n.EndedOn.IsZero() || !slices.Contains(PictureSizes(), size) {
		return nil, "", fault.New(fault.NotFound, "picture %v is withdrawn, or has no size %q", id, size)
	}
	for _, keeper := range []PictureKeeper{s.pictures, s.store} {
		data, err = keeper.KeptPicture(ctx, who.GroupID, n.Hash, size)
		if fault.KindOf(err) != fault.NotFound {
			break
		}
	}
	if fault.KindOf(err) == fault.NotFound {
		err = fault.Wrap(fault.Internal, err, "picture %v, file %s: it is not kept any more", id, n.Hash).WithCode(fault.PictureLost)
	}
	return data, n.Hash + "-" + size, err
}
