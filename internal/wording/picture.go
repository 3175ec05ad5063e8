package wording

import "rockledger/internal/registry"

// Sentences about pictures.
const (
	PictureFileHelp     = "JPEG, PNG or WebP, at most 15 MiB. Place, owner and everything else that the file says beside what is to be seen are taken out before it is kept."
	PictureWordsHelp    = "What is to be seen. Read out to those who cannot see the picture."
	PictureTakenHelp    = "Left out, it counts as not known; it is never read from the file."
	RecordedPicture     = "The picture has been added."
	PictureBefore       = "This file was added to this anchor before, and stands below as it did."
	PictureGone         = "This file was added to this anchor before and has been withdrawn since. It stays out of sight unless a steward shows it again through the API."
	PictureWithdrawn    = "The picture has been withdrawn. It is no longer shown; that it was there stays on record."
	PictureWithdrawHelp = "It is no longer shown to anybody. That it was there, and its words, stay on record."
	NonePictures        = "There is no picture of this anchor yet."
)

// pictureFaults say why a file is no picture that can be taken, and what to do.
var pictureFaults = map[string]string{
	"picture-kind":   "This is no JPEG, PNG or WebP, whatever it is called. Save the picture as JPEG and send that; a telephone does so if it is set to the most compatible format.",
	"picture-claim":  "The file is another kind of picture than the media type that came with it says; a browser goes by the ending of its name. Give it the right ending, or save it as JPEG, and send that.",
	"picture-broken": "This picture cannot be read: it is broken or was cut short. Open it, save it as JPEG once more and send that.",
	"picture-deep":   "This picture takes more memory to read than is taken for one: of 16 bits a colour, interlaced, or WebP without loss, at most 25 million pixels. Save it as JPEG and send that.",
	"picture-pixels": "This picture has more pixels than are taken: at most 50 million, and 12,000 on a side. Scale it down and send that.",
}

// PictureFaults lists the reasons that have a sentence.
func PictureFaults() []string {
	list := make([]string, 0, len(pictureFaults))
	for why := range pictureFaults {
		list = append(list, why)
	}
	return list
}

// PictureAlt says what a picture is of to whoever cannot see it: its own words
// or, without any, of which anchor and from which day it is.
func PictureAlt(p registry.Picture, label string) string {
	switch {
	case p.Words != "":
		return p.Words
	case p.TakenOn.IsZero():
		return "Picture of anchor " + label
	}
	return "Picture of anchor " + label + ", " + p.TakenOn.Words()
}

// PictureLine says below a picture when and by whom it was taken or recorded;
// who is blank if that is not known.
func PictureLine(p registry.Picture, who string) string {
	line := "Day not known"
	if !p.TakenOn.IsZero() {
		line = "Taken on " + p.TakenOn.Words()
	}
	if who != "" {
		line += ", " + who
	}
	return line
}
