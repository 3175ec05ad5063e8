package demo

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	paint "image/draw"
	"image/png"
	"math"
	"slices"

	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"

	"rockledger/internal/app"
	"rockledger/internal/registry"
)

// drawings are the pictures of the scenario, each of the first anchor at which
// something was seen. They are drawn, so that nobody takes them for a place.
var drawings = []struct {
	saw   registry.Observation
	words string
	draw  func(*sketch)
}{
	{registry.TeaStaining, "Invented drawing: brown staining below the eye.", (*sketch).stainedEye},
	{registry.LooseNut, "Invented drawing: hanger with a gap behind the nut.", (*sketch).looseHanger},
}

// picture adds the drawings to the inspections they belong to.
func (r *round) picture(ctx context.Context, service *app.Service, who registry.Actor, found []registry.Inspection) error {
	for _, d := range drawings {
		i := slices.IndexFunc(found, func(f registry.Inspection) bool { return slices.Contains(f.Observations, d.saw) })
		if i < 0 {
			continue
		}
		file, err := sketched(d.draw)
		if err != nil {
			return fmt.Errorf("draw a picture: %w", err)
		}
		_, _, err = service.AddPicture(ctx, who, registry.Picture{
			ID: r.id(), AnchorID: found[i].AnchorID, RecordID: &found[i].ID, TakenOn: found[i].DoneOn.From,
			Words: d.words, PersonID: found[i].PersonID,
		}, file)
		if err != nil {
			return fmt.Errorf("add a picture: %w", err)
		}
	}
	return nil
}

// sketch is a drawing on a sheet of 800 by 600 pixels.
type sketch struct{ *image.RGBA }

// Colours of the drawings.
var (
	sheet = color.RGBA{238, 236, 228, 255}
	ink   = color.RGBA{40, 44, 50, 255}
	steel = color.RGBA{150, 158, 166, 255}
	stain = color.RGBA{150, 84, 30, 255}
)

func sketched(what func(*sketch)) (registry.PictureFile, error) {
	s := &sketch{image.NewRGBA(image.Rect(0, 0, 800, 600))}
	paint.Draw(s, s.Bounds(), image.NewUniform(sheet), image.Point{}, paint.Src)
	for x := -600; x < 800; x += 60 { // rock, hatched
		s.line(x, 600, x+600, 0, 1, steel)
	}
	what(s)
	s.title("INVENTED DRAWING")
	var b bytes.Buffer
	err := png.Encode(&b, s)
	return registry.PictureFile{Claimed: "image/png", Data: b.Bytes()}, err
}

func (s *sketch) stainedEye() {
	for x := -40; x <= 40; x += 8 {
		s.line(400+x, 380, 400+x/2, 540-2*abs(x), 5, stain)
	}
	s.ring(290, 100, 22, steel)
	s.ring(290, 112, 3, ink)
	s.ring(290, 88, 3, ink)
	s.line(400, 190, 400, 150, 30, steel)
}

func (s *sketch) looseHanger() {
	s.line(400, 180, 400, 350, 70, steel)
	s.ring(420, 60, 26, steel)
	s.ring(420, 74, 3, ink)
	s.ring(210, 30, 14, ink)
	s.ring(210, 52, 3, ink) // the gap
	s.line(470, 150, 430, 190, 3, ink)
}

func abs(n int) int { return max(n, -n) }

// line draws a line of a width.
func (s *sketch) line(x1, y1, x2, y2, width int, c color.RGBA) {
	steps := max(abs(x2-x1), abs(y2-y1), 1)
	for i := range steps + 1 {
		s.dot(x1+(x2-x1)*i/steps, y1+(y2-y1)*i/steps, width, c)
	}
}

// ring draws a circle of a width in the middle of the sheet, y from its top.
func (s *sketch) ring(y, radius, width int, c color.RGBA) {
	for degree := 0.0; degree < 360; degree += 0.25 {
		sin, cos := math.Sincos(degree * math.Pi / 180)
		s.dot(400+int(float64(radius)*cos), y+int(float64(radius)*sin), width, c)
	}
}

func (s *sketch) dot(x, y, width int, c color.RGBA) {
	at := image.Rect(0, 0, width, width).Add(image.Pt(x-width/2, y-width/2))
	paint.Draw(s, at, image.NewUniform(c), image.Point{}, paint.Src)
}

// title writes at the foot, four times as large as the font is.
func (s *sketch) title(text string) {
	const times = 4
	small := image.NewRGBA(image.Rect(0, 0, len(text)*basicfont.Face7x13.Advance, basicfont.Face7x13.Height))
	d := font.Drawer{Dst: small, Src: image.NewUniform(ink), Face: basicfont.Face7x13, Dot: fixed.P(0, basicfont.Face7x13.Ascent)}
	d.DrawString(text)
	for i := range small.Bounds().Dx() * small.Bounds().Dy() {
		x, y := i%small.Bounds().Dx(), i/small.Bounds().Dx()
		if small.RGBAAt(x, y).A > 0 {
			s.dot(30+times*x, 545+times*y, times, ink)
		}
	}
}
