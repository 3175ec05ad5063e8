package picture

import (
	"image"
	"image/color"
	"image/draw"
)

// shrink returns img on white with its longest side at most limit pixels, the
// sides in the same proportion, each at least 1. Nothing is blown up.
//
// A pixel of the result is the mean of those it covers, each weighed by the
// part covered (area mean): exact for any proportion, and beside the result it
// needs two rows of the picture, however large that is. Means are taken of the
// values as stored, as is usual.
func shrink(img image.Image, limit int) *image.RGBA {
	from := img.Bounds()
	w, h := fit(from.Dx(), from.Dy(), limit)
	if same, ok := img.(*image.RGBA); ok && from.Min == (image.Point{}) && from.Max == image.Pt(w, h) && same.Opaque() {
		return same
	}
	var (
		out    = image.NewRGBA(image.Rect(0, 0, w, h))
		row    = image.NewRGBA(image.Rect(0, 0, from.Dx(), 1))
		across = make([]uint64, 3*w)
		sums   = make([]uint64, 3*w)
		area   = uint64(from.Dx()) * uint64(from.Dy()) //nolint:gosec // sides are positive
		aside  = shares(from.Dx(), w)
		down   = shares(from.Dy(), h)
	)
	for i, s := range down {
		if i == 0 || s.old != down[i-1].old {
			readRow(row, img, from.Min.Y+s.old)
			sumAcross(across, row.Pix, aside)
		}
		for j, v := range across {
			sums[j] += v * s.part
		}
		if i+1 == len(down) || down[i+1].now != s.now {
			writeRow(out, s.now, sums, area)
		}
	}
	return out
}

// fit is the size of a picture of w by h pixels within limit.
func fit(w, h, limit int) (int, int) {
	longest := max(w, h)
	if longest <= limit {
		return w, h
	}
	return max(1, (w*limit+longest/2)/longest), max(1, (h*limit+longest/2)/longest)
}

// share is how much of an old pixel a new one covers, along one side of a
// picture: part, in units of which the whole side has old pixels times new
// pixels. Each new pixel covers as many units as there are old pixels.
type share struct {
	old, now int
	part     uint64
}

// shares lists the shares of a side that shrinks from one number of pixels to
// another, in order; from is not below to.
func shares(from, to int) []share {
	list := make([]share, 0, from+to)
	for now, old := 0, 0; now < to; {
		part := min((now+1)*from, (old+1)*to) - max(now*from, old*to)
		list = append(list, share{old, now, uint64(part)}) //nolint:gosec // they overlap
		oldEnds, nowEnds := (old+1)*to, (now+1)*from
		if oldEnds <= nowEnds {
			old++
		}
		if nowEnds <= oldEnds {
			now++
		}
	}
	return list
}

// readRow draws one row of a picture on white.
func readRow(row *image.RGBA, img image.Image, y int) {
	draw.Draw(row, row.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(row, row.Bounds(), img, image.Pt(img.Bounds().Min.X, y), draw.Over)
}

// sumAcross adds up one row, three colours a pixel, each old pixel as often as
// its share says.
func sumAcross(into []uint64, pix []byte, list []share) {
	clear(into)
	for _, s := range list {
		for c := range 3 {
			into[3*s.now+c] += s.part * uint64(pix[4*s.old+c])
		}
	}
}

// writeRow divides the sums of one row and clears them.
func writeRow(out *image.RGBA, y int, sums []uint64, area uint64) {
	pix := out.Pix[y*out.Stride:]
	for x := range len(sums) / 3 {
		for c := range 3 {
			pix[4*x+c] = byte((sums[3*x+c] + area/2) / area) //nolint:gosec // a mean of bytes
		}
		pix[4*x+3] = 0xff
	}
	clear(sums)
}
