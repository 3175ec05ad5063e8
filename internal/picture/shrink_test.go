package picture

import (
	"image"
	"image/color"
	"testing"

	"pgregory.net/rapid"
)

// The parts of each new pixel add up to the number of old ones, those of each
// old pixel to the number of new ones: nothing counts twice or not at all.
func TestSharesCoverEverything(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.IntRange(1, 400).Draw(t, "from")
		to := rapid.IntRange(1, from).Draw(t, "to")
		old, now := make([]int, from), make([]int, to)
		for _, s := range shares(from, to) {
			old[s.old] += int(s.part)
			now[s.now] += int(s.part)
		}
		for i, n := range old {
			if n != to {
				t.Fatalf("old pixel %d of %d counts %d, want %d", i, from, n, to)
			}
		}
		for i, n := range now {
			if n != from {
				t.Fatalf("new pixel %d of %d counts %d, want %d", i, to, n, from)
			}
		}
	})
}

// By hand: three grey pixels in a row become two, each of one and a half.
func TestShrinkIsAMean(t *testing.T) {
	t.Parallel()
	img := image.NewGray(image.Rect(5, 7, 8, 8)) // a picture need not begin at 0
	for x, v := range []byte{0, 90, 240} {
		img.SetGray(5+x, 7, color.Gray{Y: v})
	}
	out := shrink(img, 2)
	if out.Bounds() != image.Rect(0, 0, 2, 1) {
		t.Fatalf("bounds %v, want 2 × 1", out.Bounds())
	}
	for x, want := range []byte{30, 190} { // (0 + 90/2) / 1.5, (90/2 + 240) / 1.5
		if got := out.RGBAAt(x, 0); got != (color.RGBA{want, want, want, 255}) {
			t.Errorf("pixel %d = %v, want %d", x, got, want)
		}
	}
}

// A picture of one colour keeps it at any size.
func TestShrinkKeepsAColour(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 60).Draw(t, "w"), rapid.IntRange(1, 60).Draw(t, "h")
		c := color.RGBA{rapid.Byte().Draw(t, "r"), rapid.Byte().Draw(t, "g"), rapid.Byte().Draw(t, "b"), 255}
		img := image.NewRGBA(image.Rect(0, 0, w, h))
		for i := range w * h {
			img.SetRGBA(i%w, i/w, c)
		}
		out := shrink(img, rapid.IntRange(1, 60).Draw(t, "limit"))
		for i := range out.Bounds().Dx() * out.Bounds().Dy() {
			if got := out.RGBAAt(i%out.Bounds().Dx(), i/out.Bounds().Dx()); got != c {
				t.Fatalf("%v, want %v", got, c)
			}
		}
	})
}

func FuzzOrientation(f *testing.F) {
	f.Add([]byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"))
	f.Add([]byte("Exif\x00\x00II*\x00\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, block := range [][]byte{data, jpegExif(data), pngExif(data), webpExif(data)} {
			if o := orientationOf(block); o < 1 || o > 8 {
				t.Errorf("orientation %d", o)
			}
		}
		scansOf(data)
	})
}
