package demo

import (
	"bytes"
	"fmt"
	"math/rand/v2"
)

// listSeed makes the synthetic list always the same.
const listSeed = 20_260_412

// SyntheticList is an anchor list of so many rows, spread over so many sites in
// the order of sites, routes and bolts, for measuring and tests. Always the
// same for the same numbers; nothing in it is real. One row in a hundred has a
// date that cannot be read, one in five hundred says what the row before says.
func SyntheticList(rows, sites int) []byte {
	dice := rand.New(rand.NewPCG(listSeed, listSeed)) //nolint:gosec // it invents, it keeps no secret
	var b bytes.Buffer
	b.WriteString("Crag,Sector,Route,Bolt,Type,Steel,Dia,Length,Glue,Batch,Fitted,By,Last checked,State,Lat,Lon,Landowner,Notes\n")
	perSite := max(1, (rows+sites-1)/sites)
	last := ""
	for i := range rows {
		if last == "" || dice.IntN(500) > 0 {
			last = listRow(dice, i/perSite, i%perSite)
		}
		b.WriteString(last)
	}
	return b.Bytes()
}

var (
	listTypes  = []string{"expansion + hanger", "glue-in", "through bolt"}
	listSteels = []string{"A4", "A2", "316L", "BZP", ""}
	listStates = []string{"ok", "ok", "ok", "", "surface rust", "spins"}
)

// listRow is the n-th row of a site.
func listRow(dice *rand.Rand, site, n int) string {
	pick := func(from []string) string { return from[dice.IntN(len(from))] }
	year := 1990 + dice.IntN(34)
	fitted := fmt.Sprintf("%04d-%02d-%02d", year, 1+dice.IntN(12), 1+dice.IntN(28))
	if dice.IntN(100) == 0 {
		fitted = "some time ago"
	}
	kind, glue, batch := pick(listTypes), "", ""
	if kind == "glue-in" {
		glue, batch = "Invented Resin", fmt.Sprintf("L%02d%02d", year%100, 1+dice.IntN(12))
	}
	bolt := fmt.Sprintf("B%d", n%10+1)
	switch n % 10 {
	case 8:
		bolt = "belay left"
	case 9:
		bolt = "belay right"
	}
	return fmt.Sprintf("Invented Crag %04d,Wall %d,Line %d,%s,%s,%s,10mm,80mm,%s,%s,%s,Tester %d,%04d-06-01,%s,%.5f,%.5f,Invented Estate %d,\n",
		site+1, n/30+1, n/10+1, bolt, kind, pick(listSteels), glue, batch, fitted, dice.IntN(12)+1,
		year+1+dice.IntN(2024-year), pick(listStates), 54+float64(site%50)/100, -2.5+float64(site/50)/100, site%25+1)
}
