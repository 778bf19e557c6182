package photo

import (
	"encoding/binary"
	"io"
)

// Orientation reads the orientation from an Exif block, which is a TIFF file
// (TIFF 6.0, section 2; CIPA DC-008, 4.6.4, tag 274): 1 to 8, and 1 where
// there is none or it can't be read. Nothing else of the block is looked at.
func Orientation(tiff []byte) int {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder
	switch string(tiff[:2]) {
	case "II":
		order = binary.LittleEndian
	case "MM":
		order = binary.BigEndian
	default:
		return 1
	}
	if order.Uint16(tiff[2:]) != 42 {
		return 1
	}
	at := int64(order.Uint32(tiff[4:]))
	if at < 8 || at+2 > int64(len(tiff)) {
		return 1
	}
	entries := int(order.Uint16(tiff[at:]))
	const (
		entrySize      = 12
		tagOrientation = 274
		typeShort      = 3
	)
	for i := range entries {
		from := at + 2 + int64(i)*entrySize
		if from+entrySize > int64(len(tiff)) {
			return 1
		}
		entry := tiff[from : from+entrySize]
		if order.Uint16(entry) != tagOrientation {
			continue
		}
		value := int(order.Uint16(entry[8:]))
		if order.Uint16(entry[2:]) == typeShort && order.Uint32(entry[4:]) == 1 && value >= 1 && value <= 8 {
			return value
		}
		return 1
	}
	return 1
}

// chunks says how a format of chunks writes them.
type chunks struct {
	order     binary.ByteOrder
	lengthAt  int    // within the eight bytes before a chunk's content
	nameAt    int    // likewise
	exif      string // the name of the chunk with the Exif block
	after     int64  // bytes behind the content
	pairs     bool   // an odd content is filled up by one byte
	prefixed  bool   // some programs begin the block as in JPEG
	mostChunk uint32
}

var (
	// PNG, third edition (W3C), 5.3 and 11.3.4.2.
	pngChunks = chunks{order: binary.BigEndian, lengthAt: 0, nameAt: 4, exif: "eXIf", after: 4, mostChunk: mostExif}
	// WebP container specification, RFC 9649, section 2.
	webpChunks = chunks{order: binary.LittleEndian, lengthAt: 4, nameAt: 0, exif: "EXIF", pairs: true, prefixed: true, mostChunk: mostExif}
)

const (
	mostExif   = 1 << 20 // bytes of a block that is looked into (chosen)
	mostChunks = 10_000  // that are looked past (chosen)
)

// chunkOrientation looks for the Exif block of a file of chunks, which begin at
// the given place.
func chunkOrientation(r io.ReadSeeker, begin int64, c chunks) (int, error) {
	at := begin
	for range mostChunks {
		if _, err := r.Seek(at, io.SeekStart); err != nil {
			return 1, err
		}
		var head [8]byte
		if _, err := io.ReadFull(r, head[:]); err != nil {
			return 1, nil //nolint:nilerr // the end of the file
		}
		length := c.order.Uint32(head[c.lengthAt:])
		if string(head[c.nameAt:c.nameAt+4]) == c.exif && length <= c.mostChunk {
			return c.read(r, length), nil
		}
		at += 8 + int64(length) + c.after
		if c.pairs {
			at += int64(length & 1)
		}
	}
	return 1, nil
}

func (c chunks) read(r io.Reader, length uint32) int {
	block := make([]byte, length)
	if _, err := io.ReadFull(r, block); err != nil {
		return 1
	}
	if c.prefixed && len(block) > 6 && string(block[:6]) == "Exif\x00\x00" {
		block = block[6:]
	}
	return Orientation(block)
}
