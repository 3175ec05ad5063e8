package web

import (
	"log/slog"
	"net/http"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/auth"
	"rockledger/internal/registry"
)

// Options are what the pages need. Those without a default are required.
type Options struct {
	Service *app.Service
	// Accounts finds who signs in, Sessions keeps who is signed in.
	Accounts auth.Accounts
	Sessions scs.Store
	// Log gets what no reader can be told: an error page that cannot be drawn.
	Log *slog.Logger
	// Cost is the work that checking a password takes; zero: auth.UsualCost.
	Cost auth.Cost
	// Now is the clock that failed sign-ins are counted by; nil: the machine's.
	Now func() time.Time
}

// Pages are the pages of one installation.
type Pages struct {
	service  *app.Service
	sessions *auth.Sessions
	log      *slog.Logger
	origin   *http.CrossOriginProtection
}

// New returns the pages.
func New(o Options) *Pages {
	if o.Cost == (auth.Cost{}) {
		o.Cost = auth.UsualCost()
	}
	return &Pages{
		service: o.Service, log: o.Log,
		sessions: auth.NewSessions(o.Sessions, o.Accounts, o.Cost, o.Now),
		origin:   http.NewCrossOriginProtection(),
	}
}

// Mount adds the pages and their static files to e.
func (p *Pages) Mount(e *echo.Echo) {
	e.GET(staticPrefix+":hash/:name", staticFile)
	e.GET("/favicon.ico", favicon)

	e.GET("/", p.home, p.sessions.Load)
	e.GET("/sign-in", p.signInForm, p.sessions.Load)
	e.POST("/sign-in", p.signIn, p.sameOrigin, p.sessions.Load)
	e.POST("/sign-out", p.signOut, p.sameOrigin, p.sessions.Load)

	g := e.Group("/g/:slug", p.sameOrigin, p.sessions.Load, p.members)
	g.GET("", p.toToday)
	g.GET("/", p.today)
	g.GET("/anchors", p.anchors)
	g.GET("/anchors/:id", p.anchor)
	g.POST("/anchors/:id/inspections", p.inspect)
	g.POST("/anchors/:id/pictures", p.addPicture)
	for _, posted := range []string{"inspections", "pictures"} {
		g.GET("/anchors/:id/"+posted, p.reload("/anchors/:id"))
	}
	g.GET("/import/enter", p.reload("/import"))
	g.GET("/holds/:id/lift", p.reload("/holds"))
	g.GET("/pictures/:id/:size", p.picture)
	g.POST("/pictures/:id/withdraw", p.withdrawPicture)
	g.GET("/anchors/:id/evidence", p.evidence)
	g.GET("/anchors/:id/settle", p.settleForm)
	g.POST("/anchors/:id/settle", p.settle)
	g.GET("/anchors/:id/retract", p.retractForm)
	g.POST("/anchors/:id/retract", p.retract)
	for _, a := range acts {
		g.GET("/anchors/:id/"+a.path, p.actForm(a))
		g.POST("/anchors/:id/"+a.path, p.act(a))
	}
	g.GET("/anchors/:id/first-use", p.firstUseForm)
	g.POST("/anchors/:id/first-use", p.allowFirstUse)
	g.GET("/anchors/:id/setting", p.settingForm)
	g.POST("/anchors/:id/setting", p.correctSetting)
	g.GET("/anchors/:id/cure", p.cureForm)
	g.POST("/anchors/:id/cure", p.recordCure)
	g.GET("/gluing", p.gluingSessions)
	g.GET("/gluing/new", p.gluingForm)
	g.POST("/gluing/new", p.enterGluing)
	g.GET("/gluing/card", p.gluingCard)
	g.GET("/gluing/:id", p.gluingSession)
	g.GET("/gluing/:id/correct", p.correctForm)
	g.POST("/gluing/:id/correct", p.correct)
	g.GET("/gluing/:id/sample", p.sampleForm)
	g.POST("/gluing/:id/sample", p.recordSample)
	g.GET("/gluing/:id/cure-card", p.cureCard)
	g.GET("/places", p.places)
	g.GET("/places/:id", p.site)
	g.GET("/sectors/:id", p.sector)
	g.GET("/routes/:id", p.route)
	g.GET("/positions/:id", p.position)
	g.GET("/routes/:id/positions/new", p.newPositionForm)
	g.POST("/routes/:id/positions/new", p.addPosition)
	g.GET("/positions/:id/anchors/new", p.newAnchorForm)
	g.POST("/positions/:id/anchors/new", p.addAnchor)
	p.mountKept(g)
	for path, kind := range map[string]registry.PlaceKind{
		"/places": registry.AtSite, "/sectors": registry.AtSector, "/routes": registry.AtRoute, "/positions": registry.AtPosition,
	} {
		g.GET(path+"/:id/environment", p.environmentOf(kind))
		g.POST(path+"/:id/environment", p.enterEnvironment(kind))
	}
	g.GET("/reports/overdue", p.overdue)
	g.GET("/reports/overdue.csv", p.overdueCSV)
	g.GET("/reports/suspect", p.suspect)
	g.GET("/reports/suspect.csv", p.suspectCSV)
	g.GET("/reports/work", p.work)
	g.GET("/reports/work.csv", p.workCSV)
	g.GET("/reports/land", p.land)
	g.GET("/reports/land.csv", p.landCSV)
	g.GET("/land", p.landList)
	mountLand(g, p, landownerForm)
	mountLand(g, p, parcelForm)
	mountLand(g, p, agreementForm)
	mountLand(g, p, restrictionForm)
	g.GET("/stock", p.stock)
	g.GET("/stock/products", p.productForm)
	g.POST("/stock/products", p.enterProduct)
	g.GET("/stock/batches", p.batchForm)
	g.POST("/stock/batches", p.enterBatch)
	g.GET("/products/:id", p.product)
	g.GET("/products/:id/sheet", p.sheetForm)
	g.POST("/products/:id/sheet", p.enterSheet)
	g.GET("/batches/:id", p.batch)
	g.GET("/batches/:id/trace", p.trace)
	g.POST("/batches/:id", p.countBatch)
	g.GET("/notices", p.recalls)
	g.GET("/notices/new", p.recallForm)
	g.POST("/notices/new", p.enterRecall)
	g.GET("/notices/:id", p.recall)
	g.POST("/notices/:id", p.closeRecall)
	g.GET("/house-rules", p.houseRules)
	g.GET("/house-rules/change", p.rulesForm)
	g.POST("/house-rules/change", p.enterRules)
	g.GET("/ledger", p.ledger)
	g.GET("/holds", p.holds)
	g.POST("/holds", p.addHold)
	g.POST("/holds/:id/lift", p.liftHold)
	g.GET("/people", p.people)
	g.GET("/people/:id/erase", p.eraseForm)
	g.POST("/people/:id/erase", p.erase)
	g.GET("/landowners/:id/erase", p.eraseOwnerForm)
	g.POST("/landowners/:id/erase", p.eraseOwner)
	g.GET("/import", p.importForm)
	g.GET("/export/anchor-list.csv", p.exportList)
	g.POST("/import", p.importTry)
	g.POST("/import/enter", p.importEnter)
	g.GET("/proposals", p.proposals)
	g.POST("/proposals", p.decideProposals)
	g.GET("/import/:id", p.importState)
	g.POST("/import/:id/enter", p.importEnterTrial)
	g.POST("/import/:id/undo", p.importUndo)
}
