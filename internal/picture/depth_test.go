package picture_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/picture"
)

// headOf is a PNG that says it is of w by h pixels, with the bits and the
// interlace method given. Of its pixels it holds none.
func headOf(t *testing.T, w, h uint32, bits, colour, interlaced byte) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		t.Fatal(err)
	}
	data := out.Bytes()
	binary.BigEndian.PutUint32(data[16:], w)
	binary.BigEndian.PutUint32(data[20:], h)
	data[24], data[25], data[28] = bits, colour, interlaced
	binary.BigEndian.PutUint32(data[29:], crc32.ChecksumIEEE(data[12:29]))
	return data
}

// What a picture unpacks to is bounded in bytes, not in pixels alone. Colour
// types by PNG (W3C, third edition), 11.2.1: 0 grey, 2 colours, 6 with alpha.
func TestDeepPictures(t *testing.T) {
	t.Parallel()
	const deep, broken = picture.WhyDeep, picture.WhyBroken // broken: it would have been read
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"16 bits a colour, 50 million pixels", headOf(t, 10_000, 5000, 16, 2, 0), deep},
		{"16 bits with alpha, one row more than fits", headOf(t, 10_000, 2501, 16, 6, 0), deep},
		{"16 bits, as many as fit", headOf(t, 10_000, 2500, 16, 2, 0), broken},
		{"16 bits of grey", headOf(t, 10_000, 5000, 16, 0, 0), broken},
		{"8 bits", headOf(t, 10_000, 5000, 8, 2, 0), broken},
		{"8 bits, interlaced", headOf(t, 10_000, 5000, 8, 6, 1), deep},
		{"16 bits, interlaced", headOf(t, 10_000, 1251, 16, 2, 1), deep},
		{"WebP without loss", webpLossless(10_000, 5000), deep},
		{"WebP without loss, as many as fit", webpLossless(10_000, 2500), broken},
	} {
		_, err := picture.Prepare("", c.data)
		e, ok := fault.As(err)
		if !ok || len(e.Violations) != 1 || e.Violations[0].Values["why"] != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

// webpLossless is the head of a WebP without loss of w by h pixels.
//
// Source: RFC 9649, 3.4: after the signature 14 bits for each side less one.
func webpLossless(w, h uint32) []byte {
	body := binary.LittleEndian.AppendUint32([]byte{0x2f}, (w-1)|(h-1)<<14)
	body = append(body, 0)
	data := append([]byte("RIFF\x00\x00\x00\x00WEBPVP8L"), 6, 0, 0, 0)
	data = append(data, body...)
	binary.LittleEndian.PutUint32(data[4:], uint32(len(data)-8))
	return data
}
