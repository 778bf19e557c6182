package demo

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/png"
	"math"

	"tenter/models"
)

// The demo's photos are drawn: knitted fabric in a colour, on a table, as a
// square or as a sleeve.

// shot is a photo as somebody took it.
type shot struct {
	caption string
	yarn    color.RGBA
	sleeve  bool
}

var (
	oat  = color.RGBA{214, 196, 160, 255}
	moss = color.RGBA{104, 128, 82, 255}
	rust = color.RGBA{176, 92, 58, 255}
	sea  = color.RGBA{84, 132, 148, 255}
)

// photographed is what testers sent with their reports.
var photographed = map[string][]shot{
	"niddy":   {{"The whole front, blocked and dry", moss, false}, {"The left sleeve beside the tape", moss, true}},
	"burdock": {{"The sleeve that I had measured from the wrong end", rust, true}},
	"sorrel":  {{"How the hem lies", sea, false}},
}

const (
	shotWidth, shotHeight     = 560, 420 // pixels
	stitchWidth, stitchHeight = 14.0, 11.0
)

// draw draws fabric: each stitch is a V whose legs catch the light from above.
func (s shot) draw() ([]byte, error) {
	img := image.NewRGBA(image.Rect(0, 0, shotWidth, shotHeight))
	for y := range shotHeight {
		for x := range shotWidth {
			img.SetRGBA(x, y, s.at(float64(x), float64(y)))
		}
	}
	var out bytes.Buffer
	err := png.Encode(&out, img)
	return out.Bytes(), err
}

func (s shot) at(x, y float64) color.RGBA {
	margin := 40.0
	if s.sleeve {
		margin = 90 + 70*y/shotHeight // narrower towards the cuff
	}
	if x < margin || x > shotWidth-margin || y < 30 || y > shotHeight-30 {
		grain := 6 * math.Sin(y/3+math.Sin(x/40)) // of the table
		return shade(color.RGBA{168, 148, 124, 255}, 1+grain/255)
	}
	across := math.Mod(x, stitchWidth)/stitchWidth*2 - 1 // -1 to 1 within a stitch
	along := math.Mod(y+math.Abs(across)*stitchHeight/2, stitchHeight) / stitchHeight
	light := 0.72 + 0.36*math.Sin(math.Pi*along) - 0.18*math.Abs(across)*math.Abs(across)
	if math.Abs(across) < 0.08 || math.Abs(across) > 0.95 {
		light -= 0.22 // between the legs, and between stitches
	}
	return shade(s.yarn, light)
}

func shade(c color.RGBA, light float64) color.RGBA {
	lit := func(v uint8) uint8 { return uint8(min(255, max(0, float64(v)*light))) }
	return color.RGBA{lit(c.R), lit(c.G), lit(c.B), 255}
}

// take adds photos to a place, where photos are kept.
func take(ctx context.Context, store *models.Store, as models.Actor, place models.PhotoPlace, shots ...shot) error {
	for _, s := range shots {
		picture, err := s.draw()
		if err != nil {
			return err
		}
		_, _, err = store.AddPhoto(ctx, as, models.NewPhoto{Place: place, Caption: s.caption, Content: bytes.NewReader(picture)})
		if err != nil && models.KindOf(err) != models.Unavailable {
			return err
		}
	}
	return nil
}
