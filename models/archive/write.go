package archive

import (
	"archive/zip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"
)

// Writer writes an archive, file after file; nothing is held in memory but a
// row. The manifest comes last, since it tells the checksums of the others.
type Writer struct {
	zip      *zip.Writer
	manifest Manifest
}

// NewWriter starts an archive of tables at a schema level.
func NewWriter(w io.Writer, level int64, madeAt time.Time, leftOut []string) *Writer {
	if leftOut == nil {
		leftOut = []string{}
	}
	return &Writer{zip: zip.NewWriter(w), manifest: Manifest{Format: Format, Version: Version, Level: level, MadeAt: madeAt.UTC(),
		LeftOut: leftOut, Tables: []Table{}, Photos: []Entry{}}}
}

// measured counts and hashes what passes through it.
type measured struct {
	io.Writer
	n int64
}

func (m *measured) Write(b []byte) (int, error) {
	n, err := m.Writer.Write(b)
	m.n += int64(n)
	return n, err
}

func (w *Writer) file(name string, method uint16, fill func(io.Writer) error) (Entry, error) {
	into, err := w.zip.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: w.manifest.MadeAt})
	if err != nil {
		return Entry{}, fmt.Errorf("%s: %w", name, err)
	}
	sum := sha256.New()
	out := &measured{Writer: io.MultiWriter(into, sum)}
	if err := fill(out); err != nil {
		return Entry{}, fmt.Errorf("%s: %w", name, err)
	}
	return Entry{Name: name, Bytes: out.n, SHA256: hex.EncodeToString(sum.Sum(nil))}, nil
}

// bufferedRows is how many bytes of rows are gathered before they are written.
const bufferedRows = 32 << 10

// Table writes a table; each is called with a function that takes its rows.
func (w *Writer) Table(name string, columns []Column, each func(row func([]any) error) error) error {
	t := Table{Table: name, Columns: columns}
	if !word.MatchString(name) {
		return fmt.Errorf("table %q: the name can't stand in an archive", name)
	}
	if err := checkColumns(t); err != nil {
		return err
	}
	var err error
	t.File, err = w.file(tableFile(name), zip.Deflate, func(out io.Writer) error {
		var buf []byte
		err := each(func(row []any) (err error) {
			if buf, err = appendRow(buf, columns, row); err != nil {
				return err
			}
			t.Rows++
			if len(buf) >= bufferedRows {
				_, err = out.Write(buf)
				buf = buf[:0]
			}
			return err
		})
		if err != nil {
			return err
		}
		_, err = out.Write(buf)
		return err
	})
	w.manifest.Tables = append(w.manifest.Tables, t)
	return err
}

const photoFolder = "photos/"

// Photo writes a file as it is, under photos/.
func (w *Writer) Photo(name string, from io.Reader) error {
	name = photoFolder + name
	if !fileName.MatchString(name) {
		return fmt.Errorf("photo %q: the name can't stand in an archive", name)
	}
	e, err := w.file(name, zip.Store, func(out io.Writer) error {
		_, err := io.Copy(out, from)
		return err
	})
	w.manifest.Photos = append(w.manifest.Photos, e)
	return err
}

// Missing notes a photo that should be there and is lost, under photos/.
func (w *Writer) Missing(name string, bytes int64, sha256 string) {
	w.manifest.Missing = append(w.manifest.Missing, Entry{Name: photoFolder + name, Bytes: bytes, SHA256: sha256})
}

// Close writes the manifest and ends the archive.
func (w *Writer) Close() (*Manifest, error) {
	text, err := json.MarshalIndent(w.manifest, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("manifest: %w", err)
	}
	_, err = w.file(manifestName, zip.Deflate, func(out io.Writer) error {
		_, err := out.Write(append(text, '\n'))
		return err
	})
	return &w.manifest, errors.Join(err, w.zip.Close())
}
