package picture

import "image"

// upright turns and mirrors a picture so that its orientation becomes 1.
//
// Orientation says what the first row and the first column of the stored
// pixels are of the scene: 1 top and left, 2 top and right, 3 bottom and
// right, 4 bottom and left, 5 left and top, 6 right and top, 7 right and
// bottom, 8 left and bottom.
//
// Source: TIFF 6.0, section 8 (Orientation); Exif 2.3 (CIPA DC-008), 4.6.4.
func upright(img *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return img
	}
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if orientation >= 5 {
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			tx, ty := scene(x, y, w, h, orientation)
			copy(out.Pix[out.PixOffset(tx, ty):][:4], img.Pix[img.PixOffset(x, y):][:4])
		}
	}
	return out
}

// scene is where a stored pixel lies in the scene.
func scene(x, y, w, h, orientation int) (int, int) {
	switch orientation {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return h - 1 - y, x
	case 7:
		return h - 1 - y, w - 1 - x
	case 8:
		return y, w - 1 - x
	}
	return x, y
}
