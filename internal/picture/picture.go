// Package picture makes of a file that somebody sent the pictures that are
// kept of it: upright, in three sizes, as JPEG, with nothing of what the file
// said beside its pixels. Where and when it was taken, by whom and with what,
// thumbnails, colour profiles and whatever hangs behind the picture are gone.
//
// It refuses a file that is not what it claims to be, that is none of JPEG,
// PNG and WebP, that is broken, or that would unpack to more than a person
// needs to see of an anchor. It says nothing of what a picture shows.
package picture

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/jpeg"
	"image/png"

	"golang.org/x/image/webp"

	"rockledger/internal/fault"
)

// Limits of a file; defaults of this project. A telephone's picture of 50
// million pixels fits.
const (
	// MaxBytes is the longest file, in bytes: 15 MiB.
	MaxBytes = 15 << 20
	// MaxPixels is the most pixels a file may unpack to. A plain JPEG of as many
	// takes some 150 MB while it is read; a progressive one with all its colours
	// takes 750 MB, four bytes for each of three coefficients a pixel and the
	// pixels themselves.
	MaxPixels = 50_000_000
	// MaxUnpacked is the most bytes that the pixels of a PNG or WebP may take
	// unpacked: those of MaxPixels at four bytes each. One of 16 bits a colour,
	// interlaced, or of a WebP without loss may so have half as many pixels.
	MaxUnpacked = 4 * MaxPixels
	// MaxSide is the longest side in pixels.
	MaxSide = 12_000
	// maxScans is how often a progressive JPEG may go over its pixels: each
	// time takes as long as reading a plain one. Cameras and editors write
	// about ten.
	maxScans = 100
)

// Size names one of the pictures that are kept of a file.
type Size string

// The sizes, largest first.
const (
	Full   Size = "full"   // longest side at most 2560 pixels
	Middle Size = "middle" // longest side at most 1280 pixels
	Small  Size = "small"  // longest side at most 320 pixels
)

// Sizes lists the sizes, largest first.
func Sizes() []Size { return []Size{Full, Middle, Small} }

// Side is the longest that a side of a picture of this size is, in pixels; 0
// for no size. A file with fewer pixels is never blown up.
func (s Size) Side() int { return sides[s] }

var sides = map[Size]int{Full: 2560, Middle: 1280, Small: 320}

// quality of the JPEGs that are kept, of 100: a default of this project.
const quality = 85

// Prepared is what is kept of a file.
type Prepared struct {
	// Hash is the SHA-256 of the file as it was sent, in hex: what tells
	// whether the same file came before. It is not the hash of what is kept.
	Hash string
	// Width and Height are those of the full size, in pixels.
	Width, Height int
	// JPEG holds each size.
	JPEG map[Size][]byte
}

// HashOf is the hash that Prepare gives a file.
func HashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// Prepare makes of a file what is kept of it. claimed is the media type that
// came with it, such as "image/jpeg"; blank or "application/octet-stream":
// none. data is neither modified nor kept.
//
// Prepare is not cheap: it takes seconds and hundreds of megabytes for the
// largest files, so call it one at a time.
//
// It returns fault.TooLarge for more than MaxBytes, and fault.Invalid with one
// violation of field "file" for what it refuses. The value "why" of the
// violation is one of the Why constants.
func Prepare(claimed string, data []byte) (Prepared, error) {
	if err := check(claimed, data); err != nil {
		return Prepared{}, err
	}
	kind := kindOf(data)
	img, err := kind.decode(data)
	if err != nil {
		return Prepared{}, refuse(WhyBroken, fault.Malformed)
	}
	p := Prepared{Hash: HashOf(data), JPEG: make(map[Size][]byte, len(sides))}
	full := upright(shrink(img, Full.Side()), kind.orientation(data))
	p.Width, p.Height = full.Bounds().Dx(), full.Bounds().Dy()
	for _, s := range Sizes() {
		var out bytes.Buffer
		full = shrink(full, s.Side())
		if err := jpeg.Encode(&out, full, &jpeg.Options{Quality: quality}); err != nil {
			return Prepared{}, fault.Wrap(fault.Internal, err, "write picture of size %s", s)
		}
		p.JPEG[s] = out.Bytes()
	}
	return p, nil
}

// check refuses what must not be unpacked.
func check(claimed string, data []byte) error {
	switch {
	case len(data) == 0:
		return refuse("", fault.Blank)
	case len(data) > MaxBytes:
		return fault.New(fault.TooLarge, "picture of %d bytes", len(data)).With("field", "file", "limit", "15 MiB", "what", "picture")
	}
	kind := kindOf(data)
	if kind == nil {
		return refuse(WhyKind, fault.Unknown)
	}
	if c := claim(claimed); c != "" && c != kind.media {
		return refuse(WhyClaim, fault.Mismatch, "text", c, "is", kind.media)
	}
	size, err := kind.config(data)
	if err != nil {
		return refuse(WhyBroken, fault.Malformed)
	}
	if size.Width <= 0 || size.Height <= 0 {
		return refuse(WhyBroken, fault.Malformed)
	}
	if size.Width > MaxSide || size.Height > MaxSide || size.Width*size.Height > MaxPixels {
		return refuse(WhyPixels, fault.OutOfRange)
	}
	if kind.bytes != nil && size.Width*size.Height*kind.bytes(size, data) > MaxUnpacked {
		return refuse(WhyDeep, fault.OutOfRange)
	}
	if kind.media == typeJPEG && scansOf(data) > maxScans {
		return refuse(WhyBroken, fault.Malformed)
	}
	return nil
}

// Why a file is refused.
const (
	WhyKind   = "picture-kind"   // none of the three
	WhyClaim  = "picture-claim"  // another than was claimed
	WhyBroken = "picture-broken" // it cannot be read
	WhyPixels = "picture-pixels" // it has too many pixels
	WhyDeep   = "picture-deep"   // its pixels would unpack to too many bytes
)

func refuse(why string, code fault.Code, kv ...string) error {
	var c fault.Checks
	if why != "" {
		kv = append([]string{"why", why}, kv...)
	}
	c.Require(false, "file", code, kv...)
	return c.Err()
}

// kind is a kind of file that is taken.
type kind struct {
	media  string
	is     func([]byte) bool
	config func([]byte) (image.Config, error)
	decode func([]byte) (image.Image, error)
	exif   func([]byte) []byte // the Exif block, nil for none
	// bytes is how many a pixel takes at most while the file is read. Nil: the
	// number of pixels bounds it well enough.
	bytes func(image.Config, []byte) int
}

const typeJPEG = "image/jpeg"

var kinds = []*kind{
	{
		media: typeJPEG, is: begins("\xff\xd8\xff"), exif: jpegExif,
		config: func(b []byte) (image.Config, error) { return jpeg.DecodeConfig(bytes.NewReader(b)) },
		decode: func(b []byte) (image.Image, error) { return jpeg.Decode(bytes.NewReader(b)) },
	},
	{
		media: "image/png", is: begins("\x89PNG\r\n\x1a\n"), exif: pngExif, bytes: pngBytes,
		config: func(b []byte) (image.Config, error) { return png.DecodeConfig(bytes.NewReader(b)) },
		decode: func(b []byte) (image.Image, error) { return png.Decode(bytes.NewReader(b)) },
	},
	{
		media: "image/webp", is: isWebP, exif: webpExif, bytes: webpBytes,
		config: func(b []byte) (image.Config, error) { return webp.DecodeConfig(bytes.NewReader(b)) },
		decode: func(b []byte) (image.Image, error) { return webp.Decode(bytes.NewReader(b)) },
	},
}

// orientation is the one the file states, 1 (upright) if it states none that
// can be read.
func (k *kind) orientation(data []byte) int { return orientationOf(k.exif(data)) }
