package picture

import (
	"image"
	"image/color"
)

// pngBytes is how many bytes a pixel of a PNG takes: eight with 16 bits a
// colour, else four or fewer; and as many again where it is interlaced, since
// each pass is unpacked beside the whole.
//
// Source: PNG (W3C, third edition), 11.2.1: the interlace method is the last
// byte of the first chunk, byte 28 of the file.
func pngBytes(c image.Config, data []byte) int {
	n := 4
	switch c.ColorModel {
	case color.RGBA64Model, color.NRGBA64Model:
		n = 8
	case color.GrayModel:
		n = 1
	case color.Gray16Model:
		n = 2
	}
	const interlaced = 28
	if len(data) > interlaced && data[interlaced] != 0 {
		n *= 2
	}
	return n
}

// webpBytes is how many bytes a pixel of a WebP takes: of a plain lossy one one
// and a half, taken as two; of one without loss, or with an alpha channel, which
// is stored so, four for the pixels and four for what they are made from.
//
// Source: RFC 9649, 2.4 to 2.7: the first chunk is VP8, VP8L or VP8X.
func webpBytes(_ image.Config, data []byte) int {
	if len(data) >= 16 && string(data[12:16]) == "VP8 " {
		return 2
	}
	return 8
}
