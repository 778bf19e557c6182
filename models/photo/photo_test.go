package photo_test

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/modelstest"
	"tenter/models/photo"
)

func rewrite(data []byte) ([]photo.Picture, error) {
	r := bytes.NewReader(data)
	h, err := photo.Look(r)
	if err != nil {
		return nil, err
	}
	return photo.Rewrite(r, h)
}

// markers lists the markers of a JPEG before its coded data (ITU-T T.81,
// B.1.1.3), read here apart from what reads them in the package.
func markers(t *testing.T, data []byte) (out []byte) {
	t.Helper()
	require.Equal(t, []byte{0xFF, 0xD8}, data[:2])
	for at := 2; ; {
		require.EqualValues(t, 0xFF, data[at])
		out = append(out, data[at+1])
		if data[at+1] == 0xDA {
			return out
		}
		at += 2 + int(binary.BigEndian.Uint16(data[at+2:]))
	}
}

// nothingBeside asserts that a JPEG holds tables, a frame, scans and nothing
// else: no APPn (E0 to EF), no comment (FE), nothing behind its end.
func nothingBeside(t *testing.T, data []byte) {
	t.Helper()
	for _, m := range markers(t, data) {
		require.Contains(t, []byte{0xDB, 0xC0, 0xC4, 0xDA}, m, "marker %X", m)
	}
	require.Equal(t, []byte{0xFF, 0xD9}, data[len(data)-2:])
	require.Equal(t, 1, bytes.Count(data, []byte{0xFF, 0xD9}))
	for _, word := range []string{"Exif", modelstest.ExifMake, modelstest.ExifComment, modelstest.ExifPlace, "ICC_PROFILE", "http"} {
		require.NotContains(t, string(data), word)
	}
}

// TestNothingIsLeftAndUpright: by the figure of CIPA DC-008, 4.6.4, tag 274:
// where row 0 and column 0 of the stored picture are seen, for each value.
func TestNothingIsLeftAndUpright(t *testing.T) {
	const red, green, blue, white = "red", "green", "blue", "white"
	for orientation, seen := range map[int][4]string{ // top left, top right, bottom left, bottom right
		1: {red, green, blue, white}, 2: {green, red, white, blue}, 3: {white, blue, green, red}, 4: {blue, white, red, green},
		5: {red, blue, green, white}, 6: {blue, red, white, green}, 7: {white, green, blue, red}, 8: {green, white, red, blue},
	} {
		t.Run(fmt.Sprint(orientation), func(t *testing.T) {
			data := modelstest.PhoneJPEG(t, 400, 200, orientation)
			require.Contains(t, string(data), modelstest.ExifMake)
			pictures, err := rewrite(data)
			require.NoError(t, err)
			require.Len(t, pictures, 3)
			w, h := 400, 200
			if orientation >= 5 {
				w, h = h, w
			}
			for i, p := range pictures {
				nothingBeside(t, p.JPEG)
				img, err := jpeg.Decode(bytes.NewReader(p.JPEG))
				require.NoError(t, err)
				b := img.Bounds()
				require.Equal(t, [2]int{p.Width, p.Height}, [2]int{b.Dx(), b.Dy()})
				if i < 2 {
					require.Equal(t, [2]int{w, h}, [2]int{p.Width, p.Height}, "a small picture is never made larger")
				} else {
					require.Equal(t, 320, max(p.Width, p.Height))
				}
				at := func(x, y int) string { return colorName(img.At(b.Dx()*x/4, b.Dy()*y/4)) }
				require.Equal(t, seen, [4]string{at(1, 1), at(3, 1), at(1, 3), at(3, 3)}, p.Size)
			}
		})
	}
}

func colorName(c color.Color) string {
	r, g, b, _ := c.RGBA()
	switch high := func(v uint32) bool { return v > 0x8000 }; {
	case high(r) && high(g) && high(b):
		return "white"
	case high(r):
		return "red"
	case high(g):
		return "green"
	}
	return "blue"
}

func encoded(t *testing.T, write func(*bytes.Buffer) error) []byte {
	t.Helper()
	var buf bytes.Buffer
	require.NoError(t, write(&buf))
	return buf.Bytes()
}

// chunk is a PNG chunk (W3C PNG, 5.3).
func chunk(name string, content []byte) []byte {
	body := append([]byte(name), content...)
	return slices.Concat(binary.BigEndian.AppendUint32(nil, uint32(len(content))), body, binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE(body)))
}

// bomb is a PNG of one colour that is small as a file and huge as a picture.
func bomb(t *testing.T, w, h int) []byte {
	t.Helper()
	header := slices.Concat(binary.BigEndian.AppendUint32(nil, uint32(w)), binary.BigEndian.AppendUint32(nil, uint32(h)), []byte{1, 0, 0, 0, 0})
	data := encoded(t, func(b *bytes.Buffer) error {
		z := zlib.NewWriter(b)
		row := make([]byte, 1+(w+7)/8)
		for range h {
			if _, err := z.Write(row); err != nil {
				return err
			}
		}
		return z.Close()
	})
	return slices.Concat([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", header), chunk("IDAT", data), chunk("IEND", nil))
}

// webpLossless is a WebP of one green pixel, written by hand by the lossless
// bitstream's specification (RFC 9649, section 3): five simple prefix codes of one
// symbol each.
var webpLossless = []byte("RIFF\x1a\x00\x00\x00WEBPVP8L\x0d\x00\x00\x00\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\x08\x08\x00")

func TestWhatIsTaken(t *testing.T) {
	quarters := modelstest.Quarters(60, 40)
	clear := image.NewNRGBA(image.Rect(0, 0, 50, 50))
	animation := &gif.GIF{Delay: []int{1, 1}}
	for _, c := range []color.Color{color.RGBA{R: 220, A: 255}, color.RGBA{B: 220, A: 255}} {
		animation.Image = append(animation.Image, image.NewPaletted(image.Rect(0, 0, 20, 20), color.Palette{c}))
	}
	pngFile := encoded(t, func(b *bytes.Buffer) error { return png.Encode(b, quarters) })
	turned := slices.Concat(pngFile[:33], chunk("eXIf", modelstest.Exif(6)), pngFile[33:])
	for _, row := range []struct {
		name string
		data []byte
		kind string
		w, h int
		top  string // colour of the upper left quarter
	}{
		{"JPEG", modelstest.JPEG(t, quarters), "image/jpeg", 60, 40, "red"},
		{"PNG", pngFile, "image/png", 60, 40, "red"},
		{"PNG with an Exif chunk", turned, "image/png", 40, 60, "blue"},
		{"PNG that one sees through, on white", encoded(t, func(b *bytes.Buffer) error { return png.Encode(b, clear) }), "image/png", 50, 50, "white"},
		{"animated GIF, its first picture", encoded(t, func(b *bytes.Buffer) error { return gif.EncodeAll(b, animation) }), "image/gif", 20, 20, "red"},
		{"WebP", webpLossless, "image/webp", 1, 1, ""},
		{"a page behind a picture", append(modelstest.JPEG(t, quarters), "<script>alert(1)</script>"...), "image/jpeg", 60, 40, "red"},
	} {
		t.Run(row.name, func(t *testing.T) {
			h, err := photo.Look(bytes.NewReader(row.data))
			require.NoError(t, err)
			require.Equal(t, row.kind, h.Kind)
			pictures, err := rewrite(row.data)
			require.NoError(t, err)
			nothingBeside(t, pictures[0].JPEG)
			require.Equal(t, [2]int{row.w, row.h}, [2]int{pictures[0].Width, pictures[0].Height})
			if row.top != "" {
				img, err := jpeg.Decode(bytes.NewReader(pictures[0].JPEG))
				require.NoError(t, err)
				require.Equal(t, row.top, colorName(img.At(row.w/4, row.h/4)))
			}
		})
	}
}

func TestWhatIsRefused(t *testing.T) {
	whole := modelstest.PhoneJPEG(t, 400, 200, 6)
	pngFile := encoded(t, func(b *bytes.Buffer) error { return png.Encode(b, modelstest.Quarters(60, 40)) })
	scans := slices.Concat(whole[:len(whole)-2], bytes.Repeat([]byte{0xFF, 0xDA, 0, 8, 1, 1, 0, 0, 63, 0}, 200))
	for _, row := range []struct {
		name string
		data []byte
		says string
	}{
		{"nothing", nil, "is empty"},
		{"text under a picture's name", []byte("This is no picture at all."), "no picture that can be read"},
		{"a page with a picture's beginning later", []byte("<html>\xff\xd8\xff"), "no picture that can be read"},
		{"HEIC", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), "HEIC file"},
		{"AVIF", []byte("\x00\x00\x00\x18ftypavif\x00\x00\x00\x00mif1avif"), "AVIF file"},
		{"a film", []byte("\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00"), "no picture that can be read"},
		{"a picture of 2.5 thousand million pixels in a small file", bomb(t, 50_000, 50_000), "50000 × 50000 pixels"},
		{"long and thin beyond the edge", bomb(t, 30_000, 10), "30000 × 10 pixels"},
		{"JPEG that says 65,535 × 65,535", bytes.Replace(whole, []byte{0xFF, 0xC0, 0, 17, 8, 0, 200, 1, 144}, []byte{0xFF, 0xC0, 0, 17, 8, 255, 255, 255, 255}, 1), "65535 × 65535"},
		{"JPEG cut in its data", whole[:len(whole)*2/3], "broken off"},
		{"JPEG cut in its header", whole[:40], "broken off"},
		{"only a beginning", whole[:3], "broken off"},
		{"PNG cut", pngFile[:len(pngFile)*2/3], "broken off"},
		{"JPEG gone over 200 times", scans, "more than 100 scans"},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.Less(t, len(row.data), 1<<20)
			_, err := rewrite(row.data)
			var u *photo.Unreadable
			require.ErrorAs(t, err, &u)
			require.Contains(t, u.Says, row.says)
		})
	}
}

func TestOrientation(t *testing.T) {
	for want := 1; want <= 8; want++ {
		require.Equal(t, want, photo.Orientation(modelstest.Exif(want)))
	}
	good := modelstest.Exif(6)
	for _, row := range []struct {
		name string
		tiff []byte
	}{
		{"nothing", nil}, {"another order", append([]byte("XX"), good[2:]...)}, {"cut", good[:20]}, {"9 is none", modelstest.Exif(9)}, {"0 is none", modelstest.Exif(0)},
		{"a directory beyond the end", slices.Concat(good[:4], []byte{255, 255, 255, 255}, good[8:])},
	} {
		t.Run(row.name, func(t *testing.T) { require.Equal(t, 1, photo.Orientation(row.tiff)) })
	}
}

func FuzzOrientation(f *testing.F) {
	f.Add(modelstest.Exif(6))
	f.Add([]byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x08\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, tiff []byte) {
		if got := photo.Orientation(tiff); got < 1 || got > 8 {
			t.Fatal(got)
		}
	})
}

// FuzzRewrite: whatever comes, the answer is pictures without anything beside
// them or words about what is wrong. Large pictures are left to the bound.
func FuzzRewrite(f *testing.F) {
	f.Add(modelstest.PhoneJPEG(f, 40, 20, 6))
	f.Add(webpLossless)
	var buf bytes.Buffer
	if err := png.Encode(&buf, modelstest.Quarters(8, 8)); err != nil {
		f.Fatal(err)
	}
	f.Add(buf.Bytes())
	f.Add([]byte("GIF89a\x01\x00\x01\x00\x80\x00\x00\x00\x00\x00\xff\xff\xff!\xf9\x04\x00\x00\x00\x00\x00,\x00\x00\x00\x00\x01\x00\x01\x00\x00\x02\x02D\x01\x00;"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r := bytes.NewReader(data)
		h, err := photo.Look(r)
		if err == nil && h.Width*h.Height > 1<<20 {
			return
		}
		var pictures []photo.Picture
		if err == nil {
			pictures, err = photo.Rewrite(r, h)
		}
		if err != nil {
			if !strings.Contains(fmt.Sprintf("%T", err), "Unreadable") {
				t.Fatal(err)
			}
			return
		}
		for _, p := range pictures {
			nothingBeside(t, p.JPEG)
		}
	})
}

func BenchmarkRewrite12MP(b *testing.B) {
	var buf bytes.Buffer
	src := modelstest.Quarters(4032, 3024)
	for y := range 3024 {
		for x := range 4032 {
			src.Pix[src.PixOffset(x, y)] ^= uint8(x*y) & 31
		}
	}
	if err := jpeg.Encode(&buf, src, &jpeg.Options{Quality: 90}); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := rewrite(buf.Bytes()); err != nil {
			b.Fatal(err)
		}
	}
}
