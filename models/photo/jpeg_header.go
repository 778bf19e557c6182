package photo

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"io"
)

// Markers of JPEG (ITU-T T.81, table B.1).
const (
	markerTEM  = 0x01
	markerSOF0 = 0xC0 // the frame; C0 to CF but for DHT, JPG and DAC
	markerDHT  = 0xC4
	markerJPG  = 0xC8
	markerDAC  = 0xCC
	markerRST0 = 0xD0
	markerSOI  = 0xD8
	markerEOI  = 0xD9
	markerSOS  = 0xDA
	markerAPP1 = 0xE1
)

const jpegKind = "image/jpeg"

// lookJPEG walks the markers of a JPEG to its end: the frame's size, the
// orientation, and how often the picture is gone over.
func lookJPEG(r *bufio.Reader) (Header, error) {
	h := Header{Kind: jpegKind, Orientation: 1}
	scans := 0
	for {
		marker, err := nextMarker(r)
		if err == io.EOF || marker == markerEOI {
			break
		}
		if err != nil {
			return h, err
		}
		if marker == markerSOI || marker == markerTEM || marker >= markerRST0 && marker < markerSOI {
			continue // alone, without a length
		}
		if marker == markerSOS {
			if scans++; scans > MostScans {
				return h, unreadable("is a JPEG of more than %d scans, which takes too long to decode; save a copy of it and send that", MostScans)
			}
		}
		segment, err := readSegment(r, marker)
		if err != nil {
			return h, damaged(jpegKind)
		}
		switch {
		case isFrame(marker):
			if len(segment) < 6 {
				return h, damaged(jpegKind)
			}
			h.Height, h.Width = int(binary.BigEndian.Uint16(segment[1:])), int(binary.BigEndian.Uint16(segment[3:]))
			h.perPixel = jpegPerPixel(marker, int(segment[5]))
		case marker == markerAPP1 && h.Orientation == 1:
			if tiff, is := bytes.CutPrefix(segment, []byte("Exif\x00\x00")); is {
				h.Orientation = Orientation(tiff)
			}
		}
	}
	if h.perPixel == 0 || scans == 0 {
		return h, damaged(jpegKind)
	}
	return h, nil
}

func isFrame(marker byte) bool {
	return marker >= markerSOF0 && marker <= 0xCF && marker != markerDHT && marker != markerJPG && marker != markerDAC
}

// jpegPerPixel is what decoding takes: the planes twice, once as they are put
// together; and of a progressive one the coefficients of all of it, four bytes
// each.
func jpegPerPixel(marker byte, components int) int {
	if marker == 0xC2 {
		return 6 * components
	}
	return 2 * components
}

// nextMarker finds the next marker, past the coded data between.
func nextMarker(r *bufio.Reader) (byte, error) {
	for {
		if _, err := r.ReadSlice(0xFF); err == bufio.ErrBufferFull {
			continue
		} else if err != nil {
			return 0, err
		}
		b, err := r.ReadByte()
		for err == nil && b == 0xFF { // fill bytes
			b, err = r.ReadByte()
		}
		if err != nil {
			return 0, err
		}
		if b != 0 { // a stuffed zero is data
			return b, nil
		}
	}
}

// readSegment reads the parameters of a marker; those that nobody needs are
// skipped.
func readSegment(r *bufio.Reader, marker byte) ([]byte, error) {
	var length [2]byte
	if _, err := io.ReadFull(r, length[:]); err != nil {
		return nil, err
	}
	n := int(binary.BigEndian.Uint16(length[:])) - 2
	if n < 0 {
		return nil, io.ErrUnexpectedEOF
	}
	if !isFrame(marker) && marker != markerAPP1 {
		_, err := r.Discard(n)
		return nil, err
	}
	segment := make([]byte, n)
	_, err := io.ReadFull(r, segment)
	return segment, err
}
