package picture

import (
	"bytes"
	"encoding/binary"
)

// tagOrientation is the Exif tag that says how the picture was held; its one
// value is of type short.
//
// Source: Exif 2.3 (CIPA DC-008), table 4; TIFF 6.0, section 2.
const (
	tagOrientation = 0x0112
	typeShort      = 3
	entryBytes     = 12
)

// exifMark stands before the TIFF part in a JPEG, and in some WebP files.
var exifMark = []byte("Exif\x00\x00")

// orientationOf reads the orientation, 1 to 8, out of an Exif block, which is
// that of a TIFF file: byte order, offset of the first directory, entries. It
// reads nothing else. A block that is broken, or says nothing, says 1.
func orientationOf(block []byte) int {
	block = bytes.TrimPrefix(block, exifMark)
	order := byteOrder(block)
	if order == nil || len(block) < 8 || order.Uint16(block[2:]) != 42 {
		return 1
	}
	at := int64(order.Uint32(block[4:]))
	if at+2 > int64(len(block)) {
		return 1
	}
	entries := block[at+2:]
	for range order.Uint16(block[at:]) {
		if len(entries) < entryBytes {
			return 1
		}
		if order.Uint16(entries) == tagOrientation {
			return shortOf(order, entries)
		}
		entries = entries[entryBytes:]
	}
	return 1
}

func shortOf(order binary.ByteOrder, entry []byte) int {
	v := int(order.Uint16(entry[8:]))
	if order.Uint16(entry[2:]) != typeShort || order.Uint32(entry[4:]) != 1 || v < 1 || v > 8 {
		return 1
	}
	return v
}

func byteOrder(block []byte) binary.ByteOrder {
	switch {
	case bytes.HasPrefix(block, []byte("II")):
		return binary.LittleEndian
	case bytes.HasPrefix(block, []byte("MM")):
		return binary.BigEndian
	}
	return nil
}
