package web

import (
	"context"
	"mime"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// maxGluingForm is the longest gluing form with its pictures, in bytes. It stays
// below what the server takes, and is read into memory.
const maxGluingForm = 30 << 20

// postedGluing reads a gluing form. A line with a picture counts as set.
func postedGluing(c echo.Context) (*form, error) {
	most := int64(maxFormBytes)
	kind, _, _ := mime.ParseMediaType(c.Request().Header.Get(echo.HeaderContentType)) // what is no media type is no upload
	if kind == echo.MIMEMultipartForm {
		most = maxGluingForm
	}
	f, err := postedUpTo(c, most)
	if fault.KindOf(err) == fault.TooLarge && most == maxGluingForm {
		return nil, fault.Wrap(fault.TooLarge, err, "gluing form with pictures").With("limit", bytesWords(maxGluingForm))
	}
	if err != nil {
		return nil, err
	}
	for n := range linesOf(f) {
		if hasPicture(c, n) {
			f.Values.Set(lineField(n, "set"), "yes")
		}
	}
	return f, nil
}

// hasPicture says whether a picture was chosen for the nth line.
func hasPicture(c echo.Context, n int) bool {
	files := c.Request().MultipartForm
	return files != nil && len(files.File[lineField(n, "picture")]) > 0
}

// keepPictures adds the pictures of the lines to the anchors that were set, each
// with the installation as its record, and says whether any was refused: the
// session stands without it.
func (p *Pages) keepPictures(c echo.Context, who registry.Actor, r *gluingReader, g registry.Gluing) (refused bool, err error) {
	for k := range g.Installations {
		if !hasPicture(c, r.lines[k]) {
			continue
		}
		err := p.keepPicture(c, who, lineField(r.lines[k], "picture"), &g.Installations[k])
		switch fault.KindOf(err) {
		case fault.Invalid, fault.TooLarge, fault.Busy, fault.Forbidden:
			refused = true
		default:
			if err != nil {
				return refused, err
			}
		}
	}
	return refused, nil
}

func (p *Pages) keepPicture(c echo.Context, who registry.Actor, field string, i *registry.Installation) error {
	_, data, err := formFile(c, field, app.MaxPicture)
	if err != nil {
		return err
	}
	file := registry.PictureFile{Data: data, Claimed: c.Request().MultipartForm.File[field][0].Header.Get(echo.HeaderContentType)}
	record := i.ID
	_, _, err = p.service.AddPicture(c.Request().Context(), who, registry.Picture{AnchorID: i.AnchorID, RecordID: &record}, file)
	return err
}

// takesPictures lists the media types that a line's picture may have, blank if
// whoever asks may not add one.
func takesPictures(c echo.Context) string {
	if !allowed(c, app.AddPicture) {
		return ""
	}
	return strings.Join(app.PictureMedia(), ",")
}

// picturesOf lists the pictures that stand of an installation.
func (p *Pages) picturesOf(ctx context.Context, who registry.Actor, base string, i *registry.Installation, s registry.AnchorStory) ([]pictureLine, error) {
	list, err := everything(func(at registry.Page) ([]registry.Picture, error) {
		return p.service.Pictures(ctx, who, i.AnchorID, at)
	}, func(n registry.Picture) uuid.UUID { return n.ID })
	var lines []pictureLine
	for _, n := range list {
		if n.EndedOn.IsZero() && n.RecordID != nil && *n.RecordID == i.ID {
			lines = append(lines, newPictureLine(base, n, s, false))
		}
	}
	return lines, err
}

// addSetPictures puts the pictures of a session's installations on its page.
func (p *Pages) addSetPictures(c echo.Context, who registry.Actor, page *gluingPageOf, s registry.GluingStory) (err error) {
	if !allowed(c, app.ListPictures) {
		return nil
	}
	at := linesByAnchor(s.Anchors)
	for k := range s.Installations {
		i := &s.Installations[k]
		about := registry.AnchorStory{Persons: s.Persons, Facts: registry.Facts{Position: registry.Position{Label: at[i.AnchorID].Label}}}
		if page.Anchors[k].Pictures, err = p.picturesOf(c.Request().Context(), who, page.Frame.Base, i, about); err != nil {
			return err
		}
	}
	return nil
}
