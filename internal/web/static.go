package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"mime"
	"net/http"
	"path"

	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
)

//go:embed static
var staticFiles embed.FS

// staticPrefix is where static files live, each under a hash of its content.
const staticPrefix = "/static/"

// asset is a static file that never changes under its URL.
type asset struct {
	href        string
	contentType string
	content     []byte
}

// assets are the static files by name.
var assets = readAssets()

func readAssets() map[string]asset {
	entries, err := staticFiles.ReadDir("static")
	if err != nil {
		panic(err) // the folder is embedded
	}
	all := make(map[string]asset)
	for _, e := range entries {
		content, err := staticFiles.ReadFile(path.Join("static", e.Name()))
		if err != nil {
			panic(err)
		}
		sum := sha256.Sum256(content)
		all[e.Name()] = asset{
			href:        staticPrefix + hex.EncodeToString(sum[:8]) + "/" + e.Name(),
			contentType: mime.TypeByExtension(path.Ext(e.Name())),
			content:     content,
		}
	}
	return all
}

// staticHref returns the URL path of a static file.
func staticHref(name string) string { return assets[name].href }

// staticFile answers a static file; under another hash than its own it is not
// there.
func staticFile(c echo.Context) error {
	a, known := assets[c.Param("name")]
	if !known || c.Request().URL.Path != a.href {
		return fault.New(fault.NotFound, "no static file %q", c.Request().URL.Path)
	}
	c.Response().Header().Set(echo.HeaderCacheControl, "public, max-age=31536000, immutable")
	return c.Blob(http.StatusOK, a.contentType, a.content)
}

// favicon answers browsers that ask for the icon by its old name.
func favicon(c echo.Context) error {
	a := assets["mark.svg"]
	c.Response().Header().Set(echo.HeaderCacheControl, "public, max-age=86400")
	return c.Blob(http.StatusOK, a.contentType, a.content)
}
