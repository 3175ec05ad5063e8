package picture_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"slices"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/picture"
)

func prepare(t *testing.T, claimed string, data []byte) picture.Prepared {
	t.Helper()
	p, err := picture.Prepare(claimed, data)
	if err != nil {
		t.Fatalf("Prepare: %v", err)
	}
	return p
}

func decoded(t *testing.T, p picture.Prepared, s picture.Size) image.Image {
	t.Helper()
	img, err := jpeg.Decode(bytes.NewReader(p.JPEG[s]))
	if err != nil {
		t.Fatalf("size %s: %v", s, err)
	}
	return img
}

// near says whether two colours are the same but for what JPEG takes away.
func near(a, b color.Color) bool {
	r, g, bl, _ := a.RGBA()
	r2, g2, b2, _ := b.RGBA()
	for _, d := range []int{int(r) - int(r2), int(g) - int(g2), int(bl) - int(b2)} {
		if max(d, -d) > 24<<8 {
			return false
		}
	}
	return true
}

func TestPrepareSizes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		w, h int
		want map[picture.Size]image.Point
	}{
		// The longest side is the limit, the other by proportion, rounded: by hand.
		{3000, 1500, map[picture.Size]image.Point{picture.Full: {2560, 1280}, picture.Middle: {1280, 640}, picture.Small: {320, 160}}},
		{1000, 2000, map[picture.Size]image.Point{picture.Full: {1000, 2000}, picture.Middle: {640, 1280}, picture.Small: {160, 320}}},
		{40, 30, map[picture.Size]image.Point{picture.Full: {40, 30}, picture.Middle: {40, 30}, picture.Small: {40, 30}}}, // never blown up
		{9000, 3, map[picture.Size]image.Point{picture.Full: {2560, 1}, picture.Middle: {1280, 1}, picture.Small: {320, 1}}},
	} {
		p := prepare(t, "image/png", pngOf(t, quarters(c.w, c.h)))
		for _, s := range picture.Sizes() {
			if got := decoded(t, p, s).Bounds().Max; got != c.want[s] {
				t.Errorf("%d × %d at size %s = %v, want %v", c.w, c.h, s, got, c.want[s])
			}
		}
		if got := image.Pt(p.Width, p.Height); got != c.want[picture.Full] {
			t.Errorf("%d × %d: states %v, want %v", c.w, c.h, got, c.want[picture.Full])
		}
	}
}

// Each orientation says which edge of the scene the first stored row and column
// are (TIFF 6.0, section 8); the corners follow by hand.
func TestPrepareUpright(t *testing.T) {
	t.Parallel()
	r, g, b, y := red, green, blue, yellow
	for orientation, want := range map[uint16][4]color.RGBA{ // top left, top right, bottom left, bottom right
		0: {r, g, b, y}, 1: {r, g, b, y}, 2: {g, r, y, b}, 3: {y, b, g, r}, 4: {b, y, r, g},
		5: {r, b, g, y}, 6: {b, r, y, g}, 7: {y, g, b, r}, 8: {g, y, r, b}, 9: {r, g, b, y},
	} {
		plain := quarters(80, 40)
		for name, data := range map[string][]byte{
			"JPEG":          withExif(jpegOf(t, plain), orientation),
			"JPEG, Intel":   segment(jpegOf(t, plain), 0xe1, append([]byte("Exif\x00\x00"), exif(binary.LittleEndian, "II", orientation)...)),
			"JPEG, XMP too": withExif(segment(jpegOf(t, plain), 0xe1, []byte("http://ns.adobe.com/xap/1.0/\x00<x/>")), orientation),
			"PNG":           chunk(pngOf(t, plain), "eXIf", exif(binary.BigEndian, "MM", orientation)),
		} {
			p := prepare(t, "", data)
			turned := orientation >= 5 && orientation <= 8
			if size := image.Pt(p.Width, p.Height); turned && size != image.Pt(40, 80) || !turned && size != image.Pt(80, 40) {
				t.Errorf("%s, orientation %d: size %v", name, orientation, size)
			}
			img := decoded(t, p, picture.Full)
			w, h := p.Width, p.Height
			for i, at := range []image.Point{{w / 4, h / 4}, {3 * w / 4, h / 4}, {w / 4, 3 * h / 4}, {3 * w / 4, 3 * h / 4}} {
				if got := img.At(at.X, at.Y); !near(got, want[i]) {
					t.Errorf("%s, orientation %d, corner %d = %v, want %v", name, orientation, i, got, want[i])
				}
			}
		}
	}
}

// A WebP is turned too; its one colour tells only the size.
func TestPrepareWebP(t *testing.T) {
	t.Parallel()
	p := prepare(t, "image/webp", webpOf(60, 20))
	if p.Width != 60 || p.Height != 20 || !near(decoded(t, p, picture.Full).At(5, 5), color.RGBA{220, 180, 30, 255}) {
		t.Errorf("WebP = %d × %d, %v", p.Width, p.Height, decoded(t, p, picture.Full).At(5, 5))
	}
	for _, mark := range []string{"", "Exif\x00\x00"} {
		block := append([]byte(mark), exif(binary.LittleEndian, "II", 6)...)
		p = prepare(t, "image/webp", webpOf(60, 20, riff("XMP ", []byte("odd")), riff("EXIF", block)))
		if p.Width != 20 || p.Height != 60 {
			t.Errorf("WebP with orientation 6 = %d × %d, want 20 × 60", p.Width, p.Height)
		}
	}
}

// Nothing that a file says beside its pixels comes out again: only the segments
// that a plain JPEG needs (ITU-T T.81, table B.1).
func TestPrepareForgets(t *testing.T) {
	t.Parallel()
	script := []byte("<html><script>alert(1)</script>" + owner)
	plain := quarters(80, 40)
	for name, data := range map[string][]byte{
		"Exif":         withExif(jpegOf(t, plain), 1),
		"XMP":          segment(jpegOf(t, plain), 0xe1, []byte("http://ns.adobe.com/xap/1.0/\x00"+owner)),
		"IPTC":         segment(jpegOf(t, plain), 0xed, []byte("Photoshop 3.0\x008BIM"+owner+place)),
		"profile":      segment(jpegOf(t, plain), 0xe2, []byte("ICC_PROFILE\x00\x01\x01"+owner)),
		"comment":      segment(jpegOf(t, plain), 0xfe, script),
		"tail":         append(jpegOf(t, plain), script...),
		"PNG text":     chunk(pngOf(t, plain), "tEXt", []byte("Author\x00"+owner)),
		"PNG Exif":     chunk(pngOf(t, plain), "eXIf", exif(binary.BigEndian, "MM", 1)),
		"PNG tail":     append(pngOf(t, plain), script...),
		"WebP Exif":    webpOf(60, 20, riff("EXIF", exif(binary.LittleEndian, "II", 1))),
		"WebP unknown": webpOf(60, 20, riff("WHO ", script)),
	} {
		if !bytes.Contains(data, []byte(owner)) {
			t.Fatalf("%s: the sample names no owner", name)
		}
		p := prepare(t, "", data)
		for s, out := range p.JPEG {
			for _, secret := range []string{owner, place, "Exif", "script", "ICC", "http"} {
				if bytes.Contains(out, []byte(secret)) {
					t.Errorf("%s, size %s still holds %q", name, s, secret)
				}
			}
			for _, mark := range marksOf(out) { // tables, frame, codes, scan
				if !slices.Contains([]string{"db", "c0", "c4", "da"}, mark) {
					t.Errorf("%s, size %s has a segment %s", name, s, mark)
				}
			}
		}
		if len(p.JPEG) != 3 || p.Hash != picture.HashOf(data) || len(p.Hash) != 64 {
			t.Errorf("%s: %d sizes, hash %q", name, len(p.JPEG), p.Hash)
		}
	}
}

// marksOf lists the markers of the segments up to the first scan.
func marksOf(data []byte) []string {
	var marks []string
	for at := 2; at+4 <= len(data) && data[at] == 0xff; at += 2 + int(binary.BigEndian.Uint16(data[at+2:])) {
		marks = append(marks, fmt.Sprintf("%02x", data[at+1]))
		if data[at+1] == 0xda {
			break
		}
	}
	return marks
}

// What is clear in a PNG is white in the JPEG.
func TestPrepareOnWhite(t *testing.T) {
	t.Parallel()
	img := image.NewNRGBA(image.Rect(0, 0, 40, 40))
	for y := range 40 {
		for x := 20; x < 40; x++ {
			img.SetNRGBA(x, y, color.NRGBA{255, 0, 0, 128})
		}
	}
	out := decoded(t, prepare(t, "image/png", pngOf(t, img)), picture.Full)
	if got := out.At(5, 20); !near(got, color.White) {
		t.Errorf("clear = %v, want white", got)
	}
	if got := out.At(35, 20); !near(got, color.RGBA{255, 127, 127, 255}) { // half red, half white
		t.Errorf("half clear red = %v, want pink", got)
	}
}

func TestPrepareRejects(t *testing.T) {
	t.Parallel()
	good := jpegOf(t, quarters(80, 40))
	small := pngOf(t, quarters(8, 8))
	scans := bytes.Clone(good[:len(good)-2])
	for range 200 {
		scans = append(scans, 0xff, 0xda, 0, 2)
	}
	for _, c := range []struct {
		name, claimed string
		data          []byte
		why           string
		code          fault.Code
	}{
		{"nothing", "", nil, "", fault.Blank},
		{"GIF named JPEG", "image/jpeg", []byte("GIF89a\x01\x00\x01\x00\x80\x00\x00"), picture.WhyKind, fault.Unknown},
		{"page named JPEG", "image/jpeg", []byte("<!doctype html><script>1</script>"), picture.WhyKind, fault.Unknown},
		{"SVG", "image/svg+xml", []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), picture.WhyKind, fault.Unknown},
		{"page before a JPEG", "image/jpeg", append([]byte("<html>"), good...), picture.WhyKind, fault.Unknown},
		{"PNG named JPEG", "image/jpeg", small, picture.WhyClaim, fault.Mismatch},
		{"JPEG named page", "text/html; charset=utf-8", good, picture.WhyClaim, fault.Mismatch},
		{"PNG of 50,000 × 50,000", "image/png", sized(small, 50_000, 50_000), picture.WhyPixels, fault.OutOfRange},
		{"PNG one pixel too wide", "image/png", sized(small, 12_001, 1), picture.WhyPixels, fault.OutOfRange},
		{"PNG of 50 million pixels and a row", "image/png", sized(small, 10_000, 5_001), picture.WhyPixels, fault.OutOfRange},
		{"PNG whose sides overflow", "image/png", sized(small, 0x7fffffff, 0x7fffffff), picture.WhyBroken, fault.Malformed},
		{"WebP of 16,384 × 16,384", "", webpOf(16_384, 16_384), picture.WhyPixels, fault.OutOfRange},
		{"PNG that says more than it holds", "image/png", sized(small, 4_000, 4_000), picture.WhyBroken, fault.Malformed},
		{"JPEG cut short", "image/jpeg", good[:len(good)/2], picture.WhyBroken, fault.Malformed},
		{"JPEG without pixels", "image/jpeg", good[:4], picture.WhyBroken, fault.Malformed},
		{"PNG cut short", "image/png", small[:40], picture.WhyBroken, fault.Malformed},
		{"WebP cut short", "", webpOf(60, 20)[:20], picture.WhyBroken, fault.Malformed},
		{"200 scans", "", scans, picture.WhyBroken, fault.Malformed},
	} {
		_, err := picture.Prepare(c.claimed, c.data)
		e, ok := fault.As(err)
		if !ok || e.Kind != fault.Invalid || len(e.Violations) != 1 {
			t.Errorf("%s: %v, want one violation", c.name, err)
			continue
		}
		if v := e.Violations[0]; v.Field != "file" || v.Code != c.code || v.Values["why"] != c.why {
			t.Errorf("%s: %+v, want %s, %s", c.name, v, c.code, c.why)
		}
	}
	long := append(bytes.Clone(good), make([]byte, picture.MaxBytes+1-len(good))...)
	if _, err := picture.Prepare("", long); fault.KindOf(err) != fault.TooLarge {
		t.Errorf("a byte too many: %v, want too large", err)
	}
	if _, err := picture.Prepare("", long[:picture.MaxBytes]); err != nil {
		t.Errorf("as long as can be: %v", err)
	}
}

// Names that browsers use for the same claim nothing else.
func TestPrepareClaims(t *testing.T) {
	t.Parallel()
	data := jpegOf(t, quarters(8, 8))
	for _, claimed := range []string{"", "image/jpeg", "IMAGE/JPEG; q=1", "image/jpg", "image/pjpeg", "application/octet-stream"} {
		if _, err := picture.Prepare(claimed, data); err != nil {
			t.Errorf("JPEG claimed as %q: %v", claimed, err)
		}
	}
}

func FuzzPrepare(f *testing.F) {
	img := quarters(12, 8)
	f.Add(withExif(jpegOf(f, img), 6))
	f.Add(chunk(pngOf(f, img), "eXIf", exif(binary.BigEndian, "MM", 3)))
	f.Add(webpOf(6, 2, riff("EXIF", exif(binary.LittleEndian, "II", 8))))
	f.Add(sized(pngOf(f, img), 50_000, 50_000))
	f.Add([]byte("GIF89a"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if w, h := statedSize(data); w*h > 1<<20 { // keeps a round short; limits have tests of their own
			t.Skip()
		}
		p, err := picture.Prepare("", data)
		if err != nil {
			if k := fault.KindOf(err); k != fault.Invalid && k != fault.TooLarge {
				t.Fatalf("%v: want invalid or too large", err)
			}
			return
		}
		for _, s := range picture.Sizes() {
			c, err := jpeg.DecodeConfig(bytes.NewReader(p.JPEG[s]))
			if err != nil || max(c.Width, c.Height) > s.Side() {
				t.Fatalf("size %s = %d × %d, %v", s, c.Width, c.Height, err)
			}
		}
	})
}

func statedSize(data []byte) (int, int) {
	c, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return 0, 0
	}
	return c.Width, c.Height
}
