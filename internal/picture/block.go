package picture

import (
	"bytes"
	"encoding/binary"
)

// Markers of a JPEG file. Source: ITU-T T.81, table B.1.
const (
	markEnd   = 0xd9 // of the picture
	markScan  = 0xda // pixels follow, up to the next marker
	markExif  = 0xe1 // application segment 1
	markFill  = 0xff
	markFirst = 0xd0 // from here to markLast, and markAlone: no length follows
	markLast  = 0xd8
	markAlone = 0x01
)

// eachSegment calls fn with the marker and content of each segment of a JPEG
// up to its end, until fn returns false or the file makes no sense.
func eachSegment(data []byte, fn func(mark byte, content []byte) bool) {
	for at := 2; at+2 <= len(data); {
		if data[at] != markFill {
			at++ // pixels of a scan
			continue
		}
		mark := data[at+1]
		switch {
		case mark == markEnd:
			return
		case mark == markFill:
			at++
			continue
		case mark == 0 || mark == markAlone || mark >= markFirst && mark <= markLast:
			at += 2
			continue
		case at+4 > len(data):
			return
		}
		end := at + 2 + int(binary.BigEndian.Uint16(data[at+2:]))
		if end < at+4 || end > len(data) || !fn(mark, data[at+4:end]) {
			return
		}
		at = end
	}
}

// jpegExif is the Exif block of a JPEG, nil for none.
func jpegExif(data []byte) (block []byte) {
	eachSegment(data, func(mark byte, content []byte) bool {
		if mark == markExif && bytes.HasPrefix(content, exifMark) {
			block = content
		}
		return block == nil && mark != markScan
	})
	return block
}

// scansOf counts how often a JPEG goes over its pixels.
func scansOf(data []byte) int {
	n := 0
	eachSegment(data, func(mark byte, _ []byte) bool {
		if mark == markScan {
			n++
		}
		return n <= maxScans
	})
	return n
}

// pngExif is the Exif block of a PNG, nil for none. Chunks are length, name,
// content and checksum. Source: PNG (Third Edition), 5.3 and 11.3.4.5.
func pngExif(data []byte) []byte {
	for rest := data[min(8, len(data)):]; len(rest) >= 12; {
		n := int64(binary.BigEndian.Uint32(rest))
		if n > int64(len(rest))-12 {
			return nil
		}
		if string(rest[4:8]) == "eXIf" {
			return rest[8 : 8+n]
		}
		rest = rest[12+n:]
	}
	return nil
}

// webpExif is the Exif block of a WebP, nil for none. Chunks are name, length
// and content, filled up to an even length. Source: RFC 9649, 2.3 and 2.7.1.5.
func webpExif(data []byte) []byte {
	for rest := data[min(12, len(data)):]; len(rest) >= 8; {
		n := int64(binary.LittleEndian.Uint32(rest[4:]))
		if n > int64(len(rest))-8 {
			return nil
		}
		if string(rest[:4]) == "EXIF" {
			return rest[8 : 8+n]
		}
		rest = rest[min(8+n+n%2, int64(len(rest))):]
	}
	return nil
}
