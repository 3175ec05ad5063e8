package web

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"strings"

	"github.com/labstack/echo/v4"

	"rockledger/internal/exchange"
	"rockledger/internal/fault"
)

// Limits of an uploaded list; defaults of this project.
const (
	maxListBytes = exchange.MaxListBytes
	// maxImportForm also holds a list that is kept in a field, packed and in
	// base64: the longest one if packing takes a tenth off it. It stays below the
	// 32 MiB that net/http holds in memory, so that no upload reaches the disk.
	maxImportForm = 30 << 20
)

// upload is a list as it was sent.
type upload struct {
	name    string
	list    []byte
	mapping []byte
	kept    string // the list packed, to be sent again; blank: it was not packed yet
}

// handOver returns the list, which u then holds no more: once it was read its
// memory is free, while the rows are compared and entered.
func (u *upload) handOver() []byte {
	list := u.list
	u.list = nil
	return list
}

// chosenFile reads the list and the mapping that were chosen in the form.
func chosenFile(c echo.Context) (upload, error) {
	name, list, err := formFile(c, "file", maxListBytes)
	if err != nil {
		return upload{}, err
	}
	if name == "" {
		return upload{}, missingFile()
	}
	_, mapping, err := formFile(c, "columns", exchange.MaxMappingBytes)
	// The form has a copy of its own of what it is kept in memory for, and would
	// keep that as long as the request lasts. Nothing of it lies on the disk.
	c.Request().MultipartForm = nil
	return upload{name: name, list: list, mapping: mapping}, err
}

func missingFile() error {
	e := fault.New(fault.Invalid, "no file chosen")
	e.Violations = []fault.Violation{{Field: "file", Code: fault.Required}}
	return e
}

// formFile reads a file of the form, with an empty name if none was chosen.
func formFile(c echo.Context, field string, limit int64) (string, []byte, error) {
	h, err := c.FormFile(field)
	switch {
	case errors.Is(err, http.ErrMissingFile), errors.Is(err, http.ErrNotMultipart): // shown again after a sign-in, a form carries none
		return "", nil, nil
	case err != nil:
		return "", nil, formFault(err)
	case h.Size > limit:
		return "", nil, tooLarge(field, limit)
	}
	f, err := h.Open()
	if err != nil {
		return "", nil, fmt.Errorf("open uploaded %s: %w", field, err)
	}
	defer f.Close() //nolint:errcheck // it was only read
	content, err := io.ReadAll(io.LimitReader(f, limit))
	if err != nil {
		return "", nil, fmt.Errorf("read uploaded %s: %w", field, err)
	}
	return fileName(h.Filename), content, nil
}

// formFault tells a form that is too large from one that is broken.
func formFault(err error) error {
	if tooMuch := new(http.MaxBytesError); errors.As(err, &tooMuch) {
		return tooLarge("file", maxListBytes)
	}
	return fault.Wrap(fault.Invalid, err, "read form").WithCode(fault.Malformed)
}

func tooLarge(field string, limit int64) error {
	return fault.New(fault.TooLarge, "%s of more than %d bytes", field, limit).
		With("field", field, "limit", bytesWords(limit))
}

// bytesWords writes a limit that is whole in KiB or MiB.
func bytesWords(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d KiB", n>>10)
	}
	return fmt.Sprintf("%d MiB", n>>20)
}

// fileName keeps the last part of a name that a browser gave.
func fileName(name string) string {
	name = filepath.Base(strings.ReplaceAll(name, `\`, "/"))
	return strings.ToValidUTF8(name, "")
}

// keptFile reads the list that the page of the first step brought along.
func keptFile(c echo.Context) (upload, error) {
	form, err := c.FormParams()
	if err != nil {
		return upload{}, formFault(err)
	}
	list, err := unpack(form.Get("kept"))
	if err != nil {
		return upload{}, err
	}
	return upload{name: fileName(form.Get("name")), list: list, mapping: []byte(form.Get("columns")), kept: form.Get("kept")}, nil
}

// pack makes a list fit for a field of a form.
func pack(list []byte) (string, error) {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := z.Write(list); err != nil {
		return "", fmt.Errorf("pack list: %w", err)
	}
	if err := z.Close(); err != nil {
		return "", fmt.Errorf("pack list: %w", err)
	}
	return base64.RawURLEncoding.EncodeToString(b.Bytes()), nil
}

// unpack is the reverse of pack, up to the size of a list. What pack did not
// make counts as no file: it has to be chosen again.
func unpack(packed string) ([]byte, error) {
	z, err := gzip.NewReader(base64.NewDecoder(base64.RawURLEncoding, strings.NewReader(packed)))
	if err != nil {
		return nil, missingFile()
	}
	list, err := io.ReadAll(io.LimitReader(z, maxListBytes+1))
	switch {
	case err != nil:
		return nil, missingFile()
	case len(list) > maxListBytes:
		return nil, tooLarge("file", maxListBytes)
	}
	return list, nil
}
