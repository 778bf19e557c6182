package archive

import (
	"archive/zip"
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
)

// Bounds of what is read (chosen): far beyond a studio, far below a disk.
const (
	mostEntries     = 500_000
	largestManifest = 128 << 20
	largestLine     = 32 << 20
	LargestTotal    = 64 << 30 // bytes of all files, unpacked
)

// Archive is an archive that was opened and whose manifest fits what it holds.
type Archive struct {
	Manifest Manifest
	files    map[string]*zip.File
}

// Open reads the manifest and holds the list of files against it. Of the files
// themselves nothing is read yet.
func Open(from io.ReaderAt, size int64) (*Archive, error) {
	z, err := zip.NewReader(from, size)
	if err != nil {
		return nil, fmt.Errorf("this is no zip archive, or it was cut short: %w", err)
	}
	if len(z.File) > mostEntries {
		return nil, fmt.Errorf("the archive holds %d files; at most %d are read", len(z.File), mostEntries)
	}
	a := &Archive{files: make(map[string]*zip.File, len(z.File))}
	var packed uint64
	for _, f := range z.File {
		if a.files[f.Name] != nil {
			return nil, fmt.Errorf("the archive holds %q twice", f.Name)
		}
		if f.Method != zip.Store && f.Method != zip.Deflate || f.Flags&1 != 0 {
			return nil, fmt.Errorf("%q is packed or locked in a way that is not read", f.Name)
		}
		if packed += f.CompressedSize64; f.CompressedSize64 > uint64(size) || packed > uint64(size) {
			return nil, errors.New("the archive's files lie over each other")
		}
		a.files[f.Name] = f
	}
	return a, a.readManifest()
}

func (a *Archive) readManifest() error {
	f := a.files[manifestName]
	if f == nil {
		return errors.New("this is a zip archive, but none of a studio: it has no manifest.json")
	}
	in, err := f.Open()
	if err != nil {
		return fmt.Errorf("manifest: %w", err)
	}
	defer in.Close()
	text, err := io.ReadAll(io.LimitReader(in, largestManifest+1))
	if err != nil {
		return fmt.Errorf("the manifest can't be read: %w", err)
	}
	if len(text) > largestManifest {
		return fmt.Errorf("the manifest has more than %d MiB, which no studio's has", largestManifest>>20)
	}
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&a.Manifest); err != nil {
		return fmt.Errorf("the manifest can't be read: %w", err)
	}
	if err := a.Manifest.check(); err != nil {
		return err
	}
	listed, total := a.Manifest.entries(), int64(0)
	for _, e := range listed {
		f := a.files[e.Name]
		switch {
		case f == nil:
			return fmt.Errorf("%s is in the manifest and not in the archive", e.Name)
		case f.UncompressedSize64 != uint64(e.Bytes):
			return fmt.Errorf("%s has another length than the manifest says", e.Name)
		case e.Bytes > LargestTotal-total:
			return fmt.Errorf("the archive unpacks to more than %d GiB", LargestTotal>>30)
		}
		total += e.Bytes
	}
	if len(a.files) != len(listed)+1 {
		return errors.New("the archive holds files that its manifest does not name")
	}
	return nil
}

// Verify reads every file once and holds it against its length and checksum.
func (a *Archive) Verify() error {
	for _, e := range a.Manifest.entries() {
		in, err := a.open(e)
		if err != nil {
			return err
		}
		_, err = io.Copy(io.Discard, in)
		if err := errors.Join(err, in.Close()); err != nil {
			return fmt.Errorf("%s: %w", e.Name, err)
		}
	}
	return nil
}

// checked reads one file and complains at its end when it is not what the
// manifest says.
type checked struct {
	io.ReadCloser
	sum  hash.Hash
	left int64
	want string
}

var errOther = errors.New("is not what was written: its length or checksum is another one")

func (a *Archive) open(e Entry) (io.ReadCloser, error) {
	in, err := a.files[e.Name].Open()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", e.Name, err)
	}
	return &checked{in, sha256.New(), e.Bytes, e.SHA256}, nil
}

func (c *checked) Read(b []byte) (int, error) {
	n, err := c.ReadCloser.Read(b)
	c.sum.Write(b[:n]) //nolint:errcheck // a hash never fails
	if c.left -= int64(n); c.left < 0 {
		return 0, errOther
	}
	if errors.Is(err, io.EOF) && (c.left != 0 || hex.EncodeToString(c.sum.Sum(nil)) != c.want) {
		return n, errOther
	}
	return n, err
}

// Rows reads a table row by row. The row is used again for the next.
func (a *Archive) Rows(t Table, each func(row []any) error) error {
	in, err := a.open(t.File)
	if err != nil {
		return err
	}
	defer in.Close()
	lines := bufio.NewScanner(in)
	lines.Buffer(make([]byte, 0, 64<<10), largestLine)
	row, n := make([]any, len(t.Columns)), int64(0)
	for lines.Scan() {
		n++
		if err := readRow(lines.Bytes(), t.Columns, row); err != nil {
			return fmt.Errorf("%s, line %d: %w", t.File.Name, n, err)
		}
		if err := each(row); err != nil {
			return fmt.Errorf("%s, line %d: %w", t.File.Name, n, err)
		}
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("%s: %w", t.File.Name, err)
	}
	if n != t.Rows {
		return fmt.Errorf("%s has %d rows, and the manifest says %d", t.File.Name, n, t.Rows)
	}
	return nil
}

// Photo opens one of the photos.
func (a *Archive) Photo(e Entry) (io.ReadCloser, error) { return a.open(e) }
