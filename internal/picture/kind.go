package picture

import (
	"bytes"
	"mime"
	"strings"
)

// kindOf tells what a file is by its first bytes; nil: none of the kinds.
func kindOf(data []byte) *kind {
	for _, k := range kinds {
		if k.is(data) {
			return k
		}
	}
	return nil
}

// Media lists the media types that are taken.
func Media() []string {
	list := make([]string, len(kinds))
	for i, k := range kinds {
		list[i] = k.media
	}
	return list
}

func begins(with string) func([]byte) bool {
	return func(data []byte) bool { return bytes.HasPrefix(data, []byte(with)) }
}

func isWebP(data []byte) bool {
	return len(data) >= 12 && string(data[:4]) == "RIFF" && string(data[8:12]) == "WEBP"
}

// claim is the media type that was claimed, by its usual name; blank: none.
func claim(media string) string {
	name, _, err := mime.ParseMediaType(media)
	if err != nil {
		name, _, _ = strings.Cut(strings.ToLower(strings.TrimSpace(media)), ";")
	}
	switch name {
	case "application/octet-stream":
		return ""
	case "image/jpg", "image/pjpeg":
		return typeJPEG
	}
	return name
}
