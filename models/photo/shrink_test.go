package photo

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/draw"
)

// TestStripesAreTheWholePicture holds the resampling in stripes against the
// library's own of the whole picture at once. No value comes near black or
// white, where the two would cut off at different moments.
func TestStripesAreTheWholePicture(t *testing.T) {
	src := image.NewRGBA(image.Rect(0, 0, 700, 333))
	for y := range 333 {
		for x := range 700 {
			v := uint8(127 + 60*math.Sin(float64(x*y)/900))
			src.SetRGBA(x, y, color.RGBA{v, 255 - v, v / 2, 255})
		}
	}
	have := shrink(src, 500).(*image.RGBA)
	want := image.NewRGBA(image.Rect(0, 0, 500, 238))
	draw.CatmullRom.Scale(want, want.Rect, src, src.Rect, draw.Src, nil)
	require.Equal(t, want.Rect, have.Rect)
	for i := range want.Pix {
		require.InDelta(t, want.Pix[i], have.Pix[i], 2, "byte %d: nothing but the rounding between the two passes", i)
	}
}

func TestFit(t *testing.T) {
	for _, row := range []struct {
		name             string
		w, h, edge, x, y int
	}{
		{"small enough", 30, 20, 30, 30, 20}, {"wide", 4032, 3024, 2560, 2560, 1920}, {"high", 3024, 4032, 320, 240, 320}, {"a thread keeps a pixel", 20000, 1, 320, 320, 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			x, y := fit(row.w, row.h, row.edge)
			require.Equal(t, [2]int{row.x, row.y}, [2]int{x, y})
		})
	}
}
