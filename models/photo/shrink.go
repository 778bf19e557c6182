package photo

import (
	"image"
	"image/color"

	"golang.org/x/image/draw"
)

// stripe is how many rows or columns are resampled at once (chosen): the
// resampler keeps 32 bytes for each pixel that it works on.
const stripe = 64

// shrink makes the longest edge edge pixels long, by the cubic of Catmull and
// Rom, first along and then across. The two are independent of each other, so
// that each stripe by itself gives just what the whole picture would, but for
// the rounding to eight bits between the two. A picture that is small enough
// is returned as it is when it is an *image.RGBA, and else copied into one.
func shrink(src image.Image, edge int) image.Image {
	b := src.Bounds()
	w, h := fit(b.Dx(), b.Dy(), edge)
	if w == b.Dx() && h == b.Dy() {
		if at, ok := src.(*image.RGBA); ok && b.Min == (image.Point{}) {
			return at
		}
		out := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.Draw(out, out.Rect, src, b.Min, draw.Src)
		return out
	}
	between := image.NewRGBA(image.Rect(0, 0, w, b.Dy()))
	along := draw.CatmullRom.NewScaler(w, stripe, b.Dx(), stripe)
	for y := 0; y < b.Dy(); y += stripe {
		n := min(stripe, b.Dy()-y)
		if n < stripe {
			along = draw.CatmullRom.NewScaler(w, n, b.Dx(), n)
		}
		along.Scale(between, image.Rect(0, y, w, y+n), src, image.Rect(b.Min.X, b.Min.Y+y, b.Max.X, b.Min.Y+y+n), draw.Src, nil)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	across := draw.CatmullRom.NewScaler(stripe, h, stripe, b.Dy())
	for x := 0; x < w; x += stripe {
		n := min(stripe, w-x)
		if n < stripe {
			across = draw.CatmullRom.NewScaler(n, h, n, b.Dy())
		}
		across.Scale(out, image.Rect(x, 0, x+n, h), between, image.Rect(x, 0, x+n, b.Dy()), draw.Src, nil)
	}
	return out
}

// fit returns the size at which the longest edge is at most edge.
func fit(w, h, edge int) (int, int) {
	long := max(w, h)
	if long <= edge {
		return w, h
	}
	scaled := func(n int) int { return max(1, int((int64(n)*int64(edge)+int64(long)/2)/int64(long))) }
	return scaled(w), scaled(h)
}

// onWhite lays a picture on white where one can see through it.
func onWhite(img image.Image) *image.RGBA {
	src := img.(*image.RGBA)
	if src.Opaque() {
		return src
	}
	out := image.NewRGBA(src.Rect)
	draw.Draw(out, out.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, src, src.Rect.Min, draw.Over)
	return out
}

// turn brings a picture upright by its orientation (CIPA DC-008, 4.6.4, tag
// 274, which says where row 0 and column 0 of the stored picture are seen).
func turn(src *image.RGBA, orientation int) *image.RGBA {
	w, h := src.Rect.Dx(), src.Rect.Dy()
	var from func(x, y int) (int, int) // the stored pixel that is seen at x, y
	switch orientation {
	case 2: // top right
		from = func(x, y int) (int, int) { return w - 1 - x, y }
	case 3: // bottom right
		from = func(x, y int) (int, int) { return w - 1 - x, h - 1 - y }
	case 4: // bottom left
		from = func(x, y int) (int, int) { return x, h - 1 - y }
	case 5: // left top
		from = func(x, y int) (int, int) { return y, x }
	case 6: // right top
		from = func(x, y int) (int, int) { return y, h - 1 - x }
	case 7: // right bottom
		from = func(x, y int) (int, int) { return w - 1 - y, h - 1 - x }
	case 8: // left bottom
		from = func(x, y int) (int, int) { return w - 1 - y, x }
	default:
		return src
	}
	seen := image.Rect(0, 0, w, h)
	if orientation >= 5 {
		seen = image.Rect(0, 0, h, w)
	}
	out := image.NewRGBA(seen)
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			sx, sy := from(x, y)
			at, to := src.PixOffset(sx, sy), out.PixOffset(x, y)
			copy(out.Pix[to:to+4:to+4], src.Pix[at:at+4:at+4])
		}
	}
	return out
}
