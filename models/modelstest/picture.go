package modelstest

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a phone would write beside its picture; none of it may be found again.
const (
	ExifMake    = "PlainlyInventedMaker"
	ExifComment = "a comment that nobody should keep"
	ExifPlace   = "XMP with a place"
	exifGPS     = "\x00\x00\x00\x37" // degrees of the latitude
)

// Quarters draws a picture whose quarters are red, green (top), blue and white
// (bottom), so that one can tell which way up it is.
func Quarters(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{R: 220, A: 255}
			switch {
			case x >= w/2 && y < h/2:
				c = color.RGBA{G: 220, A: 255}
			case x < w/2 && y >= h/2:
				c = color.RGBA{B: 220, A: 255}
			case y >= h/2:
				c = color.RGBA{R: 250, G: 250, B: 250, A: 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	return img
}

// JPEG writes a picture as a JPEG.
func JPEG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var buf bytes.Buffer
	require.NoError(t, jpeg.Encode(&buf, img, &jpeg.Options{Quality: 90}))
	return buf.Bytes()
}

// PhoneJPEG is a JPEG as a phone writes it: an Exif block with device, place
// and orientation, XMP, a colour profile and a comment.
func PhoneJPEG(t testing.TB, w, h, orientation int) []byte {
	t.Helper()
	plain := JPEG(t, Quarters(w, h))
	var out bytes.Buffer
	out.Write(plain[:2]) // SOI
	segment(&out, 0xE1, append([]byte("Exif\x00\x00"), Exif(orientation)...))
	segment(&out, 0xE1, append([]byte("http://ns.adobe.com/xap/1.0/\x00"), ExifPlace...))
	segment(&out, 0xE2, append([]byte("ICC_PROFILE\x00\x01\x01"), bytes.Repeat([]byte{7}, 128)...))
	segment(&out, 0xFE, []byte(ExifComment))
	out.Write(plain[2:])
	return out.Bytes()
}

func segment(out *bytes.Buffer, marker byte, content []byte) {
	out.Write([]byte{0xFF, marker})
	out.Write(binary.BigEndian.AppendUint16(nil, uint16(len(content)+2)))
	out.Write(content)
}

// Exif writes an Exif block by hand, as a big-endian TIFF file (TIFF 6.0,
// section 2, and CIPA DC-008, 4.6): in the first directory Make (271),
// Orientation (274) and a pointer (34853) to the GPS directory, which holds
// GPSLatitudeRef (1) and GPSLatitude (2) as three rationals.
func Exif(orientation int) []byte {
	const (
		ascii, short, long, rational = 2, 3, 4, 5
		firstDirectory               = 8
		gpsDirectory                 = firstDirectory + 2 + 3*12 + 4
		values                       = gpsDirectory + 2 + 2*12 + 4
	)
	order := binary.BigEndian
	entry := func(tag, kind uint16, count uint32, value []byte) []byte {
		b := order.AppendUint32(order.AppendUint16(order.AppendUint16(nil, tag), kind), count)
		return append(b, append(value, make([]byte, 4-len(value))...)...)
	}
	u32 := func(n int) []byte { return order.AppendUint32(nil, uint32(n)) }
	maker := append([]byte(ExifMake), 0)
	return slices.Concat([]byte("MM\x00\x2a"), u32(firstDirectory),
		order.AppendUint16(nil, 3),
		entry(271, ascii, uint32(len(maker)), u32(values+24)),
		entry(274, short, 1, order.AppendUint16(nil, uint16(orientation))),
		entry(34853, long, 1, u32(gpsDirectory)), u32(0),
		order.AppendUint16(nil, 2),
		entry(1, ascii, 2, []byte("N\x00")),
		entry(2, rational, 3, u32(values)), u32(0),
		[]byte(exifGPS), u32(1), u32(41), u32(1), u32(1234), u32(100),
		maker)
}
