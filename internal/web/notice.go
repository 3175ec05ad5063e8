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
	"picture":           wording.RecordedPicture,
	"picture-before":    wording.PictureBefore,
	"picture-gone":      wording.PictureGone,
	"picture-withdrawn": wording.PictureWithdrawn,
	"gluing":            wording.RecordedGluing,
	"gluing-no-picture": wording.GluingNoPicture,
	"gluing-before":     wording.RecordedBefore,
	"gluing-corrected":  wording.CorrectedGluing,
	"first-use":         wording.RecordedFirstUse,
	"cure":              wording.RecordedCure,
	"settlement":        wording.RecordedSettlement,
	"retraction":        wording.RecordedRetract,
	"retraction-before": wording.RetractedBefore,
	"rules":             wording.RecordedRules,
	"landowner":         wording.RecordedOwner,
	"parcel":            wording.RecordedParcel,
	"agreement":         wording.RecordedAgree,
	"restriction":       wording.RecordedRestrict,
	"land-before":       wording.LandBefore,
	"maintenance":       wording.RecordedMaintenance,
	"marking":           wording.RecordedMarking,
	"unmarking":         wording.RecordedUnmarking,
	"removal":           wording.RecordedRemoval,
	"environment":       wording.RecordedEnvironment,
	"product":           wording.RecordedProduct,
	"sheet":             wording.RecordedSheet,
	"batch":             wording.RecordedBatch,
	"hold":              wording.RecordedHold,
	"hold-lifted":       wording.LiftedHold,
	"erased":            wording.PersonErased,
	"owner-erased":      wording.OwnerErased + " " + wording.OwnerNotSearched,
	"batch-count":       wording.RecordedCount,
	"position":          wording.RecordedPosition,
	"position-before":   wording.PositionBefore,
	"position-changed":  wording.ChangedPosition,
	"site":              wording.RecordedSite,
	"site-before":       wording.SiteBefore,
	"site-changed":      wording.ChangedSite,
	"sector":            wording.RecordedSector,
	"sector-before":     wording.SectorBefore,
	"sector-changed":    wording.ChangedSector,
	"route":             wording.RecordedRoute,
	"route-before":      wording.RouteBefore,
	"route-changed":     wording.ChangedRoute,
	"order":             wording.OrderChanged,
	"anchor":            wording.RecordedAnchor,
	"anchor-changed":    wording.ChangedAnchor,
	"anchor-before":     wording.AnchorBefore,
	"setting-before":    wording.RecordedBefore,
	"setting-corrected": wording.CorrectedSetting,
	"notice":            wording.RecordedNotice,
	"notice-closed":     wording.RecordedClosing,
}

// notice is what was just done, blank if nothing was.
func notice(c echo.Context) string { return notices[c.QueryParam("done")] }
