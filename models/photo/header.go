// Package photo reads a picture as a phone or a program wrote it and writes it
// anew, in three sizes, so that nothing is left of the file that came: no
// place, no device, no profile, no comment, nothing hidden behind its end.
package photo

import (
	"bufio"
	"bytes"
	"fmt"
	"image"
	"image/gif"
	"image/png"
	"io"

	"golang.org/x/image/webp"
)

// What a picture may be at most (chosen).
const (
	MostPixels  = 40_000_000
	LongestEdge = 20_000 // pixels
	MostScans   = 100    // of a progressive JPEG; programs write about ten
)

// Kinds are the formats that can be read, as media types.
func Kinds() []string { return []string{"image/jpeg", "image/png", "image/webp", "image/gif"} }

// Unreadable says in words why a file is not taken as a photo, and what to do.
type Unreadable struct{ Says string }

func (u *Unreadable) Error() string { return u.Says }

func unreadable(format string, args ...any) error { return &Unreadable{fmt.Sprintf(format, args...)} }

// Header is what a file says of its picture, read without decoding it.
type Header struct {
	Kind        string // one of Kinds, by the content
	Width       int    // pixels, as stored; an Orientation of 5 to 8 swaps them
	Height      int
	Orientation int // Exif's, 1 to 8; 1 is upright
	perPixel    int // bytes that decoding takes at most, for each pixel
}

// Bytes is about how much memory decoding and writing anew take at most.
func (h Header) Bytes() int64 {
	picture := int64(h.Width) * int64(h.Height) * int64(h.perPixel)
	between := int64(Largest) * int64(max(h.Width, h.Height)) * 4
	return picture + 2*between
}

// sniffed is how many bytes tell every format apart.
const sniffed = 16

// Look tells what a file is by its content and checks that its picture is not
// too large to be decoded. It leaves the reader anywhere.
func Look(r io.ReadSeeker) (Header, error) {
	var begin [sniffed]byte
	n, err := readBegin(r, begin[:])
	if err != nil {
		return Header{}, err
	}
	var h Header
	switch b := begin[:n]; {
	case bytes.HasPrefix(b, []byte("\xff\xd8\xff")):
		h, err = lookJPEG(bufio.NewReader(r))
	case bytes.HasPrefix(b, []byte("\x89PNG\r\n\x1a\n")):
		h, err = lookPNG(r)
	case bytes.HasPrefix(b, []byte("GIF87a")), bytes.HasPrefix(b, []byte("GIF89a")):
		h, err = configured("image/gif", 5, r, gif.DecodeConfig)
	case len(b) >= 12 && string(b[:4]) == "RIFF" && string(b[8:12]) == "WEBP":
		h, err = lookWebP(r)
	default:
		return Header{}, foreign(b)
	}
	if err != nil {
		return Header{}, err
	}
	return h, h.bounded()
}

func readBegin(r io.ReadSeeker, into []byte) (int, error) {
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return 0, fmt.Errorf("photo: %w", err)
	}
	n, err := io.ReadFull(r, into)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return 0, fmt.Errorf("photo: %w", err)
	}
	_, err = r.Seek(0, io.SeekStart)
	return n, err
}

// brands are those of ISO base media files (ISO/IEC 14496-12) that hold a
// still picture coded as HEVC or AV1 (ISO/IEC 23008-12, AVIF).
var brands = map[string]string{"heic": "HEIC", "heix": "HEIC", "heim": "HEIC", "heis": "HEIC", "hevc": "HEIC", "hevx": "HEIC",
	"mif1": "HEIC", "msf1": "HEIC", "avif": "AVIF", "avis": "AVIF"}

// foreign says what to do about a file that is none of Kinds.
func foreign(begin []byte) error {
	if len(begin) == 0 {
		return unreadable("is empty; choose the picture again")
	}
	if len(begin) >= 12 && string(begin[4:8]) == "ftyp" {
		if kind := brands[string(begin[8:12])]; kind != "" {
			return unreadable("is a %s file, which can't be read here; set the camera to save JPEG, or save a copy of it as JPEG, and send that", kind)
		}
	}
	return unreadable("is no picture that can be read here, whatever its name says; send JPEG, PNG, WebP or GIF")
}

func (h Header) bounded() error {
	switch {
	case h.Width < 1 || h.Height < 1:
		return unreadable("says that its picture has no pixels; save it again and send that")
	case h.Width > LongestEdge || h.Height > LongestEdge || int64(h.Width)*int64(h.Height) > MostPixels:
		return unreadable("is %d × %d pixels; a photo may have %d million, and %d on its longest edge: make it smaller and send that",
			h.Width, h.Height, MostPixels/1_000_000, LongestEdge)
	}
	return nil
}

func configured(kind string, perPixel int, r io.Reader, read func(io.Reader) (image.Config, error)) (Header, error) {
	c, err := read(r)
	if err != nil {
		return Header{}, damaged(kind)
	}
	return Header{Kind: kind, Width: c.Width, Height: c.Height, Orientation: 1, perPixel: perPixel}, nil
}

func damaged(kind string) error {
	return unreadable("begins like %s but can't be read as a picture; it may have broken off on the way: send it again, or save a copy of it as JPEG and send that", kindNames[kind])
}

var kindNames = map[string]string{"image/jpeg": "JPEG", "image/png": "PNG", "image/webp": "WebP", "image/gif": "GIF"}

// Bytes for each pixel: eight in sixteen bits of four channels, and as many
// again while the passes of an interlaced one are put together.
const pngPerPixel = 16

func lookPNG(r io.ReadSeeker) (Header, error) {
	h, err := configured("image/png", pngPerPixel, r, png.DecodeConfig)
	if err == nil {
		h.Orientation, err = chunkOrientation(r, 8, pngChunks)
	}
	return h, err
}

// Four of the picture, four of what it is put together from, one of its alpha.
const webpPerPixel = 9

func lookWebP(r io.ReadSeeker) (Header, error) {
	h, err := configured("image/webp", webpPerPixel, r, webp.DecodeConfig)
	if err == nil {
		h.Orientation, err = chunkOrientation(r, 12, webpChunks)
	}
	return h, err
}
