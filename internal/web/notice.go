package web

import (
	"github.com/labstack/echo/v4"

	"rockledger/internal/wording"
)

// notices say what a form has just done, by the word that its answer leads on
// with.
var notices = map[string]string{
	"inspection":        wording.RecordedInspection,
	"inspection-before": wording.RecordedBefore,
	"gluing":            wording.RecordedGluing,
	"gluing-before":     wording.RecordedBefore,
	"gluing-corrected":  wording.CorrectedGluing,
	"first-use":         wording.RecordedFirstUse,
	"cure":              wording.RecordedCure,
	"settlement":        wording.RecordedSettlement,
	"environment":       wording.RecordedEnvironment,
}

// notice is what was just done, blank if nothing was.
func notice(c echo.Context) string { return notices[c.QueryParam("done")] }
