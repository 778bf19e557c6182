package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/webp"
)

// Largest is the longest edge of the largest picture that is kept, in pixels
// (chosen).
const Largest = 2560

// The sizes in which a photo is kept, the largest first, and the longest edge
// of each in pixels (chosen): a stitch can be told apart, it fills a screen, it
// stands in a row of others. A smaller picture is never made larger.
var (
	sizes  = [...]string{"large", "screen", "thumb"}
	edgeOf = [...]int{Largest, 1280, 320}
)

// Sizes returns the names of the sizes, the largest first.
func Sizes() []string { return append([]string(nil), sizes[:]...) }

// quality of the JPEGs that are written, of 100 (chosen).
const quality = 84

// Picture is one size of a photo.
type Picture struct {
	Size   string // one of Sizes
	JPEG   []byte // without any metadata
	Width  int    // pixels
	Height int
}

// Rewrite decodes the picture that Look has seen and writes it anew in every
// size, upright, on white where it is transparent, of an animation the first
// picture. Its memory is bounded by Header.Bytes.
func Rewrite(r io.ReadSeeker, h Header) ([]Picture, error) {
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return nil, fmt.Errorf("photo: %w", err)
	}
	src, err := decode(r, h)
	if err != nil {
		return nil, err
	}
	at := onWhite(shrink(src, edgeOf[0]))
	src = nil // what is left is small
	at = turn(at, h.Orientation)
	out := make([]Picture, len(sizes))
	for i, size := range sizes {
		at = shrink(at, edgeOf[i]).(*image.RGBA)
		var buf bytes.Buffer
		if err := jpeg.Encode(&buf, at, &jpeg.Options{Quality: quality}); err != nil {
			return nil, fmt.Errorf("write the photo: %w", err)
		}
		out[i] = Picture{Size: size, JPEG: buf.Bytes(), Width: at.Rect.Dx(), Height: at.Rect.Dy()}
	}
	return out, nil
}

var decoders = map[string]func(io.Reader) (image.Image, error){
	jpegKind: jpeg.Decode, "image/png": png.Decode, "image/gif": gif.Decode, "image/webp": webp.Decode,
}

// decode never panics: what reads a stranger's file has bugs of its own.
func decode(r io.Reader, h Header) (img image.Image, err error) {
	defer func() {
		if recover() != nil {
			img, err = nil, damaged(h.Kind)
		}
	}()
	read, known := decoders[h.Kind]
	if !known {
		return nil, unreadable("is no picture that can be read here; send JPEG, PNG, WebP or GIF")
	}
	img, err = read(r)
	if err != nil {
		return nil, damaged(h.Kind)
	}
	// A format may say one size in its header and have another inside.
	if b := img.Bounds(); b.Empty() || b.Dx() > h.Width || b.Dy() > h.Height {
		return nil, damaged(h.Kind)
	}
	return img, nil
}
