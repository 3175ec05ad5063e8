package httpapi

import (
	"context"
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// MaxPictureForm is the largest request that hands in a picture, in bytes: the
// longest file, and room for the form around it.
const MaxPictureForm = app.MaxPicture + MaxBody

// ListPictures answers GET /v1/anchors/{id}/pictures.
func (a *API) ListPictures(ctx context.Context, r api.ListPicturesRequestObject) (api.ListPicturesResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, pictureID,
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Picture, error) {
			return a.service.Pictures(ctx, who, r.Id, p)
		})
	page := api.PicturePageJSONResponse{Items: each(items, pictureOut), NextCursor: next, Caution: wording.Caution}
	return api.ListPictures200JSONResponse{PicturePageJSONResponse: page}, err
}

// AddPicture answers POST /v1/anchors/{id}/pictures.
func (a *API) AddPicture(ctx context.Context, r api.AddPictureRequestObject) (api.AddPictureResponseObject, error) {
	form, err := readPictureForm(r.Id, r.Body)
	if err != nil {
		return nil, err
	}
	x, created, err := add(ctx, a, form.picture, func(ctx context.Context, who registry.Actor, n registry.Picture) (registry.Picture, bool, error) {
		return a.service.AddPicture(ctx, who, n, form.file)
	}, pictureReply)
	if app.NoPicture(err) {
		return nil, echo.NewHTTPError(http.StatusUnsupportedMediaType, http.StatusText(http.StatusUnsupportedMediaType)).SetInternal(err)
	}
	if created {
		return api.AddPicture201JSONResponse{Body: x.Body, Headers: api.AddPicture201ResponseHeaders(x.Headers)}, err
	}
	return api.AddPicture200JSONResponse{PictureReplyJSONResponse: x}, err
}

// GetPicture answers GET /v1/pictures/{id}.
func (a *API) GetPicture(ctx context.Context, r api.GetPictureRequestObject) (api.GetPictureResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Picture, pictureReply)
	return api.GetPicture200JSONResponse{PictureReplyJSONResponse: x}, err
}

// ChangePicture answers PATCH /v1/pictures/{id}.
func (a *API) ChangePicture(ctx context.Context, r api.ChangePictureRequestObject) (api.ChangePictureResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, pictureEdit(*r.Body), a.service.ChangePicture, pictureReply)
	return api.ChangePicture200JSONResponse{PictureReplyJSONResponse: x}, err
}

// GetPictureFile answers GET /v1/pictures/{id}/{size}.
func (a *API) GetPictureFile(ctx context.Context, r api.GetPictureFileRequestObject) (api.GetPictureFileResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	data, tag, err := a.service.PictureData(ctx, who, r.Id, string(r.Size))
	if err != nil {
		return nil, err
	}
	return pictureFile{data, `"` + tag + `"`, r.Params.IfNoneMatch}, nil
}

// pictureFile answers with a picture, or that the one with the same tag is still
// right. Whoever keeps it must ask each time: it may be withdrawn, and members
// come and go.
type pictureFile struct {
	data        []byte
	tag         string
	ifNoneMatch string
}

// VisitGetPictureFileResponse writes the answer.
func (p pictureFile) VisitGetPictureFileResponse(w http.ResponseWriter) error {
	h := w.Header()
	h.Set("ETag", p.tag)
	h.Set("Cache-Control", "private, no-cache")
	if matches(p.ifNoneMatch, p.tag) {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	h.Set("Content-Type", typeJPEG)
	h.Set("Content-Length", strconv.Itoa(len(p.data)))
	_, err := w.Write(p.data)
	return err
}

// matches says whether an If-None-Match header names a tag, strong or weak (RFC
// 9110, section 13.1.2).
func matches(header, tag string) bool {
	for part := range strings.SplitSeq(header, ",") {
		if part = strings.TrimPrefix(strings.TrimSpace(part), "W/"); part == tag || part == "*" {
			return true
		}
	}
	return false
}

// pictureForm is a picture's form as sent.
type pictureForm struct {
	picture registry.Picture
	file    registry.PictureFile
	has     map[string]bool
}

// readPictureForm reads the form to its end, with every violation. The size of
// the whole is limited before.
func readPictureForm(anchor uuid.UUID, form *multipart.Reader) (pictureForm, error) {
	p := pictureForm{picture: registry.Picture{AnchorID: anchor}, has: make(map[string]bool)}
	var c fault.Checks
	for {
		part, err := form.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return p, bodyError(err)
		}
		data, err := io.ReadAll(part)
		if err != nil {
			return p, bodyError(err)
		}
		c.Require(!p.has[part.FormName()], part.FormName(), fault.Duplicate)
		p.has[part.FormName()] = true
		p.take(&c, part, data)
	}
	c.Require(p.has["file"], "file", fault.Required)
	return p, c.Err()
}

func (p *pictureForm) take(c *fault.Checks, part *multipart.Part, data []byte) {
	text := strings.TrimSpace(string(data))
	if part.FormName() != "file" {
		c.Text(part.FormName(), text)
	}
	switch name := part.FormName(); name {
	case "file":
		p.file = registry.PictureFile{Claimed: part.Header.Get("Content-Type"), Data: data}
	case "words":
		p.picture.Words = text
	case "taken_on":
		if text != "" {
			day, err := calendar.ParseDate(text)
			c.Nest(name, err)
			p.picture.TakenOn = day
		}
	case "id":
		p.picture.ID = idText(c, name, text)
	case "record_id":
		p.picture.RecordID = idIn(idText(c, name, text))
	case "person_id":
		p.picture.PersonID = idIn(idText(c, name, text))
	default:
		c.Require(false, name, fault.NotAllowed)
	}
}

// idText reads the id in a field of a form; blank is none.
func idText(c *fault.Checks, field, text string) uuid.UUID {
	if text == "" {
		return uuid.Nil
	}
	id, err := uuid.Parse(text)
	c.Require(err == nil && uuidForm.MatchString(text), field, fault.Malformed, "text", text, "wanted", wording.SomeID)
	return id
}

func pictureID(p registry.Picture) uuid.UUID { return p.ID }

func pictureReply(p registry.Picture) api.PictureReplyJSONResponse {
	out := pictureOut(p)
	out.Caution = wording.Caution
	return api.PictureReplyJSONResponse{Body: out, Headers: api.PictureReplyResponseHeaders{ETag: etag(p.Version)}}
}

func pictureOut(p registry.Picture) api.Picture {
	return api.Picture{
		Id: p.ID, Version: p.Version, AnchorId: p.AnchorID, RecordId: idOut(p.RecordID), Hash: p.Hash, TakenOn: dateOut(p.TakenOn),
		Words: p.Words, Width: p.Width, Height: p.Height, PersonId: idOut(p.PersonID), RecordedAt: p.RecordedAt, EndedOn: dateOut(p.EndedOn),
	}
}

func pictureEdit(b api.PicturePatch) func(*registry.Picture) error {
	return edit(func(p *registry.Picture) {
		setDate(b.TakenOn, &p.TakenOn)
		setWord(b.Words, &p.Words)
		setPointer(b.RecordId, &p.RecordID)
		setPointer(b.PersonId, &p.PersonID)
		setDate(b.EndedOn, &p.EndedOn)
	})
}
