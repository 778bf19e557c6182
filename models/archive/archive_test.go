package archive_test

import (
	"archive/zip"
	"bytes"
	"hash/crc32"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/archive"
)

var columns = []archive.Column{{Name: "id", Kind: archive.Text}, {Name: "n", Kind: archive.Integer}, {Name: "x", Kind: archive.Number},
	{Name: "yes", Kind: archive.Boolean}, {Name: "at", Kind: archive.Moment}, {Name: "raw", Kind: archive.Bytes}}

func write(t require.TestingT, rows [][]any, photos map[string]string) []byte {
	var out bytes.Buffer
	w := archive.NewWriter(&out, 12, time.Date(2027, 2, 8, 9, 30, 0, 0, time.UTC), nil)
	require.NoError(t, w.Table("things", columns, func(row func([]any) error) error {
		for _, r := range rows {
			if err := row(r); err != nil {
				return err
			}
		}
		return nil
	}))
	for name, text := range photos {
		require.NoError(t, w.Photo(name, strings.NewReader(text)))
	}
	_, err := w.Close()
	require.NoError(t, err)
	return out.Bytes()
}

func open(data []byte) (*archive.Archive, error) {
	return archive.Open(bytes.NewReader(data), int64(len(data)))
}

// TestWhatIsWrittenIsRead: any row comes back as it was.
func TestWhatIsWrittenIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		or := func(g *rapid.Generator[any]) *rapid.Generator[any] { return rapid.OneOf(rapid.Just[any](nil), g) }
		row := rapid.Custom(func(t *rapid.T) []any {
			return []any{or(rapid.String().AsAny()).Draw(t, "id"), or(rapid.Int64().AsAny()).Draw(t, "n"),
				or(rapid.Float64Range(-math.MaxFloat64, math.MaxFloat64).AsAny()).Draw(t, "x"), or(rapid.Bool().AsAny()).Draw(t, "yes"),
				or(rapid.Map(rapid.Int64Range(0, 4e15), func(us int64) any { return time.UnixMicro(us).UTC() })).Draw(t, "at"),
				or(rapid.SliceOf(rapid.Byte()).AsAny()).Draw(t, "raw")}
		})
		rows := rapid.SliceOfN(row, 0, 20).Draw(t, "rows")
		a, err := open(write(t, rows, nil))
		require.NoError(t, err)
		require.NoError(t, a.Verify())
		got := [][]any{}
		require.NoError(t, a.Rows(a.Manifest.Tables[0], func(row []any) error {
			got = append(got, append([]any(nil), row...))
			return nil
		}))
		require.Equal(t, len(rows), len(got))
		for i := range rows {
			require.Equal(t, rows[i], got[i])
		}
	})
}

func TestPhotosComeBack(t *testing.T) {
	a, err := open(write(t, nil, map[string]string{"ab/full.jpg": "picture"}))
	require.NoError(t, err)
	require.NoError(t, a.Verify())
	in, err := a.Photo(a.Manifest.Photos[0])
	require.NoError(t, err)
	got, err := io.ReadAll(in)
	require.NoError(t, err)
	require.Equal(t, "picture", string(got))
	require.Equal(t, "photos/ab/full.jpg", a.Manifest.Photos[0].Name)
}

func TestWhatCantBeWritten(t *testing.T) {
	for name, row := range map[string][]any{
		"not a number":   {"a", int64(1), math.NaN(), true, nil, nil},
		"no end":         {"a", int64(1), math.Inf(1), true, nil, nil},
		"another type":   {"a", "1", 1.0, true, nil, nil},
		"a cell too few": {"a"},
	} {
		t.Run(name, func(t *testing.T) {
			w := archive.NewWriter(io.Discard, 12, time.Time{}, nil)
			require.Error(t, w.Table("things", columns, func(put func([]any) error) error { return put(row) }))
		})
	}
	w := archive.NewWriter(io.Discard, 12, time.Time{}, nil)
	for _, name := range []string{"../x", "/x", "a/../b", "", ".hidden", "a//b", "a\\b", "a\x00b"} {
		require.Error(t, w.Photo(name, strings.NewReader("x")), name)
	}
}

// TestBombsAreRefused: a file that unpacks to more than it says is never read
// beyond what it says, and files that lie over each other are refused.
func TestBombsAreRefused(t *testing.T) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	sum := strings.Repeat("0", 64)
	put := func(name, text string) {
		into, err := w.Create(name)
		require.NoError(t, err)
		_, err = io.WriteString(into, text)
		require.NoError(t, err)
	}
	zeros := strings.Repeat("0", 8<<20)
	// The list of the archive tells a length that is not the file's.
	header := &zip.FileHeader{Name: "tables/things.jsonl", Method: zip.Store, CRC32: crc32.ChecksumIEEE([]byte(zeros)), CompressedSize64: uint64(len(zeros)), UncompressedSize64: 10}
	into, err := w.CreateRaw(header)
	require.NoError(t, err)
	_, err = io.WriteString(into, zeros)
	require.NoError(t, err)
	put("manifest.json", `{"format":"tenter studio","version":1,"schema_level":12,"made_at":"2027-02-08T09:30:00Z","left_out":[],"photos":[],
		"tables":[{"table":"things","columns":[{"name":"id","kind":"text"}],"rows":1,"file":{"name":"tables/things.jsonl","bytes":10,"sha256":"`+sum+`"}}]}`)
	require.NoError(t, w.Close())
	a, err := open(out.Bytes())
	require.NoError(t, err)
	require.Error(t, a.Verify())

	out.Reset()
	w = zip.NewWriter(&out)
	_, err = w.CreateRaw(&zip.FileHeader{Name: "tables/things.jsonl", Method: zip.Deflate, CompressedSize64: 1 << 40, UncompressedSize64: 1 << 50})
	require.NoError(t, err)
	require.NoError(t, w.Close())
	_, err = open(out.Bytes())
	require.ErrorContains(t, err, "lie over each other")
}

func TestManifestThatPromisesTooMuch(t *testing.T) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	_, err := w.CreateRaw(&zip.FileHeader{Name: "photos/x", Method: zip.Deflate, UncompressedSize64: 1 << 50})
	require.NoError(t, err)
	into, err := w.Create("manifest.json")
	require.NoError(t, err)
	_, err = io.WriteString(into, `{"format":"tenter studio","version":1,"schema_level":12,"made_at":"2027-02-08T09:30:00Z","left_out":[],"tables":[],
		"photos":[{"name":"photos/x","bytes":1125899906842624,"sha256":"`+strings.Repeat("a", 64)+`"}]}`)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	_, err = open(out.Bytes())
	require.ErrorContains(t, err, "unpacks to more than")
}

// FuzzOpen: whatever the bytes, the reader ends, and never reads more than the
// manifest says.
func FuzzOpen(f *testing.F) {
	sound := write(f, [][]any{{"a", int64(1), 1.5, true, time.Unix(0, 0), []byte("x")}, {nil, nil, nil, nil, nil, nil}}, map[string]string{"a.jpg": "p"})
	f.Add(sound)
	f.Add(sound[:len(sound)/2])
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18)))
	f.Fuzz(func(t *testing.T, data []byte) {
		a, err := open(data)
		if err != nil {
			return
		}
		err = a.Verify()
		for _, table := range a.Manifest.Tables {
			read := int64(0)
			rerr := a.Rows(table, func(row []any) error {
				read++
				require.Len(t, row, len(table.Columns))
				return nil
			})
			require.LessOrEqual(t, read, table.File.Bytes+1)
			if err == nil && rerr == nil {
				require.Equal(t, table.Rows, read)
			}
		}
	})
}
