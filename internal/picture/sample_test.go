package picture_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

// quarters is an invented picture: red, green, blue and yellow from top left to
// bottom right.
func quarters(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	colours := []color.RGBA{red, green, blue, yellow}
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, colours[2*y/h*2+2*x/w])
		}
	}
	return img
}

var (
	red    = color.RGBA{220, 30, 30, 255}
	green  = color.RGBA{30, 180, 30, 255}
	blue   = color.RGBA{30, 30, 200, 255}
	yellow = color.RGBA{230, 220, 40, 255}
)

func jpegOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pngOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// owner and place are what must not come out again.
const (
	owner = "Invented Owner 4711"
	place = "Invented Hollow, left wall"
)

// exif writes an Exif block with an orientation, an owner and a position, in
// either byte order. Tags: 0x010e description, 0x0112 orientation, 0x013b
// artist, 0x8825 pointer to the GPS directory, there 0x0002 latitude (Exif 2.3).
func exif(order binary.AppendByteOrder, mark string, orientation uint16) []byte {
	const first, entries = 8, 4
	texts := uint32(first + 2 + entries*12 + 4)
	entry := func(b []byte, tag, kind uint16, count, value uint32) []byte {
		b = order.AppendUint16(order.AppendUint16(b, tag), kind)
		return order.AppendUint32(order.AppendUint32(b, count), value)
	}
	b := order.AppendUint32(order.AppendUint16([]byte(mark), 42), first)
	b = order.AppendUint16(b, entries)
	b = entry(b, 0x010e, 2, uint32(len(place)), texts)
	b = order.AppendUint16(order.AppendUint16(b, 0x0112), 3)
	b = order.AppendUint16(order.AppendUint16(order.AppendUint32(b, 1), orientation), 0)
	b = entry(b, 0x013b, 2, uint32(len(owner)), texts+uint32(len(place)))
	gps := texts + uint32(len(place)+len(owner))
	b = entry(b, 0x8825, 4, 1, gps)
	b = order.AppendUint32(b, 0)
	b = append(append(b, place...), owner...)
	b = order.AppendUint16(b, 1)
	b = entry(b, 0x0002, 5, 3, gps+2+12+4)
	b = order.AppendUint32(b, 0)
	for _, v := range []uint32{54, 1, 30, 1, 12, 1} {
		b = order.AppendUint32(b, v)
	}
	return b
}

// segment puts an application segment behind a JPEG's start.
func segment(data []byte, mark byte, content []byte) []byte {
	head := []byte{0xff, mark}
	head = binary.BigEndian.AppendUint16(head, uint16(len(content)+2))
	return bytes.Join([][]byte{data[:2], head, content, data[2:]}, nil)
}

func withExif(data []byte, orientation uint16) []byte {
	return segment(data, 0xe1, append([]byte("Exif\x00\x00"), exif(binary.BigEndian, "MM", orientation)...))
}

// chunk puts a chunk behind a PNG's header.
func chunk(data []byte, name string, content []byte) []byte {
	c := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
	c = append(append(c, name...), content...)
	c = binary.BigEndian.AppendUint32(c, crc32.ChecksumIEEE(c[4:]))
	const header = 8 + 25
	return bytes.Join([][]byte{data[:header], c, data[header:]}, nil)
}

// sized changes the size that a PNG's header states.
func sized(data []byte, w, h uint32) []byte {
	out := bytes.Clone(data)
	binary.BigEndian.PutUint32(out[16:], w)
	binary.BigEndian.PutUint32(out[20:], h)
	binary.BigEndian.PutUint32(out[29:], crc32.ChecksumIEEE(out[12:29]))
	return out
}

// webp is a whole WebP file of one pixel's content, made by hand: VP8L, 14 bits
// each of width and height less one, then the shortest codes there are: each
// of the five trees has one symbol, so that no pixel takes a bit. Source: RFC
// 9649, 3.
func webpOf(w, h uint32, extra ...[]byte) []byte {
	var bits bitWriter
	bits.write(0x2f, 8)
	bits.write(w-1, 14)
	bits.write(h-1, 14)
	bits.write(0, 1+3)                                                             // no alpha, version 0
	bits.write(0, 1+1+1)                                                           // no transform, no colour cache, no meta codes
	for _, v := range [][2]uint32{{180, 8}, {220, 8}, {30, 8}, {255, 8}, {0, 1}} { // green, red, blue, alpha, distance
		bits.write(1, 1) // simple code
		bits.write(0, 1) // of one symbol
		if v[1] == 8 {
			bits.write(1, 1)
			bits.write(v[0], 8)
		} else {
			bits.write(0, 1)
			bits.write(v[0], 1)
		}
	}
	content := append([]byte("WEBP"), riff("VP8L", bits.bytes())...)
	if len(extra) > 0 {
		head := []byte{0x08, 0, 0, 0}
		for _, side := range []uint32{w - 1, h - 1} {
			head = append(head, byte(side), byte(side>>8), byte(side>>16))
		}
		content = bytes.Join([][]byte{[]byte("WEBP"), riff("VP8X", head), riff("VP8L", bits.bytes()), bytes.Join(extra, nil)}, nil)
	}
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(content))), content...)
}

func riff(name string, content []byte) []byte {
	b := append(binary.LittleEndian.AppendUint32([]byte(name), uint32(len(content))), content...)
	if len(content)%2 == 1 {
		b = append(b, 0)
	}
	return b
}

type bitWriter struct {
	done []byte
	held uint64
	n    uint
}

// write adds bits, the lowest first.
func (b *bitWriter) write(v uint32, bits uint) {
	b.held |= uint64(v) << b.n
	for b.n += bits; b.n >= 8; b.n -= 8 {
		b.done = append(b.done, byte(b.held))
		b.held >>= 8
	}
}

func (b *bitWriter) bytes() []byte { return append(b.done, byte(b.held), 0, 0) }
