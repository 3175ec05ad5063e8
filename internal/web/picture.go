package web

import (
	"bytes"
	"errors"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// maxPictureForm is the longest form with a picture, in bytes: twice that of a
// picture, so that words typed beside one that is too large are read. It stays
// below the 32 MiB that net/http holds in memory, so that no upload reaches the
// disk.
const maxPictureForm = 2 * app.MaxPicture

// smallSide is the longest side of a small picture on a page, in pixels.
const smallSide = 320

// pictureLine is one picture of an anchor on its page.
type pictureLine struct {
	Small, Middle, Full string // addresses
	Width, Height       string // of the small one, in pixels
	Alt, Words, Line    string
	Withdraw            string // where to withdraw it; blank: whoever asks may not
	Version             string
}

// pictureForm asks for a picture. It needs no id to be sent twice: the same file
// is the same picture.
type pictureForm struct {
	*form
	Action string
	Accept string
	Open   bool // shown unfolded
}

// status is that of the form; without one all is well.
func (f *pictureForm) status() int {
	if f == nil {
		return http.StatusOK
	}
	return f.form.status()
}

// addPictures puts an anchor's pictures on its page, and the form for one more
// if there is one.
func (p *Pages) addPictures(c echo.Context, who registry.Actor, s registry.AnchorStory, page *anchorPage, f *form) (err error) {
	if f != nil {
		page.Picture = &pictureForm{
			form: f, Action: anchorHref(page.Frame.Base, s.Facts.Anchor.ID) + "/pictures",
			Accept: strings.Join(app.PictureMedia(), ","), Open: f.Note != "" || len(f.Wrong) > 0,
		}
	}
	page.Pictures, err = p.pictures(c, who, page.Frame.Base, s)
	return err
}

// pictures lists what an anchor's page shows: the pictures that stand, newest
// first.
func (p *Pages) pictures(c echo.Context, who registry.Actor, base string, s registry.AnchorStory) ([]pictureLine, error) {
	list, err := everything(func(at registry.Page) ([]registry.Picture, error) {
		return p.service.Pictures(c.Request().Context(), who, s.Facts.Anchor.ID, at)
	}, func(p registry.Picture) uuid.UUID { return p.ID })
	var lines []pictureLine
	for i := len(list) - 1; i >= 0; i-- {
		if list[i].EndedOn.IsZero() {
			lines = append(lines, newPictureLine(base, list[i], s, allowed(c, app.ChangePicture)))
		}
	}
	return lines, err
}

func newPictureLine(base string, n registry.Picture, s registry.AnchorStory, withdraws bool) pictureLine {
	href := base + "/pictures/" + n.ID.String()
	who := ""
	if n.PersonID != nil {
		who = s.Persons[*n.PersonID]
	}
	l := pictureLine{
		Small: href + "/small", Middle: href + "/middle", Full: href + "/full",
		Alt: wording.PictureAlt(n, s.Facts.Position.Label), Words: n.Words, Line: wording.PictureLine(n, who),
	}
	long := max(n.Width, n.Height, smallSide)
	l.Width, l.Height = strconv.Itoa(max(1, n.Width*smallSide/long)), strconv.Itoa(max(1, n.Height*smallSide/long))
	if withdraws {
		l.Withdraw, l.Version = href+"/withdraw", strconv.Itoa(n.Version)
	}
	return l
}

// picture answers one size of a picture, or that what the browser has is still
// right: it must ask each time, since a picture may be withdrawn.
func (p *Pages) picture(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	data, tag, err := p.service.PictureData(c.Request().Context(), who, id, c.Param("size"))
	if err != nil {
		return err
	}
	h := c.Response().Header()
	h.Set(echo.HeaderContentType, "image/jpeg")
	h.Set(echo.HeaderCacheControl, "private, no-cache")
	h.Set("ETag", `"`+tag+`"`)
	http.ServeContent(c.Response(), c.Request(), "", time.Time{}, bytes.NewReader(data))
	return nil
}

// addPicture adds a picture to an anchor.
func (p *Pages) addPicture(c echo.Context) error {
	who, id, err := p.recording(c, app.AddPicture)
	if err != nil {
		return err
	}
	f, file, err := postedPicture(c)
	if err != nil {
		return err
	}
	n := registry.Picture{AnchorID: id, TakenOn: f.date("taken_on"), Words: f.text("picture_words")}
	f.checks.Require(file.Data != nil, "file", fault.Required)
	done := ""
	if err = f.checks.Err(); err == nil {
		done, err = p.storePicture(c, who, n, file)
	}
	switch bad, err := f.reject(underNames(err)); {
	case err != nil:
		return err
	case bad:
		return p.showAnchor(c, who, id, anchorForms{picture: f})
	}
	return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), id)+"?done="+done)
}

// storePicture adds a picture and names the notice of what was done.
func (p *Pages) storePicture(c echo.Context, who registry.Actor, n registry.Picture, file registry.PictureFile) (string, error) {
	stored, created, err := p.service.AddPicture(c.Request().Context(), who, n, file)
	switch {
	case created || err != nil:
		return "picture", err
	case !stored.EndedOn.IsZero():
		return "picture-gone", nil
	}
	return "picture-before", nil
}

// postedPicture reads the form and its file; data is nil where none was chosen,
// or one that is too large, which the form then holds against the field.
func postedPicture(c echo.Context) (*form, registry.PictureFile, error) {
	var file registry.PictureFile
	c.Request().Body = http.MaxBytesReader(c.Response(), c.Request().Body, maxPictureForm)
	values, err := c.FormParams()
	if tooMuch := new(http.MaxBytesError); errors.As(err, &tooMuch) {
		return nil, file, pictureTooLarge()
	}
	if err != nil {
		return nil, file, formFault(err)
	}
	f := formOf(c, values)
	name, data, err := formFile(c, "file", app.MaxPicture)
	switch {
	case fault.KindOf(err) == fault.TooLarge:
		f.checks.Nest("", pictureTooLarge())
	case err != nil:
		return nil, file, err
	case name != "":
		file.Data = data
		if h, err := c.FormFile("file"); err == nil {
			file.Claimed = h.Header.Get(echo.HeaderContentType)
		}
	}
	return f, file, nil
}

func pictureTooLarge() error {
	e := fault.New(fault.TooLarge, "picture of more than %d bytes", app.MaxPicture).
		With("field", "file", "what", "picture", "limit", bytesWords(app.MaxPicture))
	e.Violations = []fault.Violation{{Field: "file", Code: e.Code, Values: e.Values}}
	return e
}

// underNames tells what is wrong under the names that the form has: those of
// its fields differ from the ones of the form beside it on the page.
func underNames(err error) error {
	e, ok := fault.As(err)
	if !ok || e.Kind != fault.Invalid {
		return err
	}
	var c fault.Checks
	for _, v := range e.Violations {
		if v.Field == "words" {
			v.Field = "picture_words"
		}
		c.Add(v)
	}
	return c.Err()
}

// withdrawPicture takes a picture out of sight, as of today.
func (p *Pages) withdrawPicture(c echo.Context) error {
	who, id, err := p.recording(c, app.ChangePicture)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	version, err := strconv.Atoi(f.text("version"))
	if err != nil {
		return fault.Wrap(fault.Unstated, err, "withdraw picture")
	}
	n, err := p.service.ChangePicture(c.Request().Context(), who, id, version, func(n *registry.Picture) error {
		n.EndedOn = p.service.AsOf(who)
		return nil
	})
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, anchorHref(p.base(c), n.AnchorID)+"?done=picture-withdrawn")
}
