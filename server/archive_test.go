package server_test

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/migrations"
	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server"
	"tenter/server/demo"
	"tenter/server/photostore"
	"tenter/server/servertest"
)

// demoAt fills a database with the invented studio, which uses every part.
func demoAt(t *testing.T, target string) (*models.Store, *demo.Clock) {
	t.Helper()
	clock := demo.NewClock(func() time.Time { return modelstest.Start })
	store, err := server.Open(context.Background(), target, models.Options{Now: clock.Now})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	_, err = demo.Fill(context.Background(), store, clock, "UTC")
	require.NoError(t, err)
	return store, clock
}

// fresh is a database that nobody has used: a name of a file, or an empty one.
func fresh(t *testing.T, kind string) string {
	t.Helper()
	if kind == "sqlite" {
		return filepath.Join(t.TempDir(), "fresh.db")
	}
	target := modelstest.Postgres(t)
	emptied(t, target)
	return target
}

// everything reads every row of every table, each cell in one spelling for
// both databases, without any of the code that writes archives. The rows are
// sorted here. Of sign-ins, keys and webhooks an archive holds nothing.
func everything(t *testing.T, store *models.Store) map[string][]string {
	t.Helper()
	db := modelstest.Rows(t, store)
	tables, err := db.Migrator().GetTables()
	require.NoError(t, err)
	out := map[string][]string{}
	for _, table := range tables {
		if strings.HasPrefix(table, "goose_") || strings.HasPrefix(table, "sqlite_") {
			continue
		}
		rows, err := db.Raw(`SELECT * FROM "` + table + `"`).Rows()
		require.NoError(t, err)
		lines := []string{}
		for rows.Next() {
			lines = append(lines, spelled(t, rows))
		}
		require.NoError(t, rows.Close())
		sort.Strings(lines)
		out[table] = lines
	}
	return out
}

func spelled(t *testing.T, rows *sql.Rows) string {
	t.Helper()
	columns, err := rows.Columns()
	require.NoError(t, err)
	cells, into := make([]any, len(columns)), make([]any, len(columns))
	for i := range cells {
		into[i] = &cells[i]
	}
	require.NoError(t, rows.Scan(into...))
	said := make([]string, len(columns))
	for i, c := range cells {
		switch v := c.(type) {
		case time.Time:
			said[i] = columns[i] + "=" + v.UTC().Format(time.RFC3339Nano)
		case []byte:
			said[i] = columns[i] + "=" + hex.EncodeToString(v)
		case bool: // SQLite has no truth of its own
			said[i] = columns[i] + "=0"
			if v {
				said[i] = columns[i] + "=1"
			}
		default:
			said[i] = fmt.Sprintf("%s=%v", columns[i], v)
		}
	}
	sort.Strings(said)
	return strings.Join(said, " | ")
}

var keptAtHome = []string{"sign_ins", "half_sign_ins", "second_factors", "recovery_codes", "signing_keys", "refresh_tokens", "idempotency_keys", "webhooks", "webhook_deliveries", "letters"}

// TestArchiveBringsTheSameStudio goes each way between the two databases, and
// compares all of the state and the bytes of a board.
func TestArchiveBringsTheSameStudio(t *testing.T) {
	for _, from := range []string{"sqlite", "postgres"} {
		for _, to := range []string{"sqlite", "postgres"} {
			t.Run(from+" to "+to, func(t *testing.T) {
				t.Parallel()
				store, clock := demoAt(t, fresh(t, from))
				s := servertest.With(t, store, modelstest.NewClock(), func(*server.Config) {})
				require.NoError(t, modelstest.Rows(t, store).Exec(`UPDATE people SET name = ? WHERE handle = (SELECT min(handle) FROM people)`,
					"Zoë \"the\" <b>\u2028\\ 羊毛\t\n'; DROP").Error)
				var file bytes.Buffer
				m, err := store.WriteArchive(context.Background(), &file, true)
				require.NoError(t, err)
				require.Greater(t, m.Total(), int64(1000))
				before := everything(t, store)

				target := fresh(t, to)
				_, err = server.ArchiveInto(context.Background(), bytes.NewReader(file.Bytes()), int64(file.Len()), target, nil)
				require.NoError(t, err)
				other, err := server.Open(context.Background(), target, models.Options{Now: clock.Now})
				require.NoError(t, err)
				t.Cleanup(func() { require.NoError(t, other.Close()) })
				after := everything(t, other)
				for _, table := range keptAtHome {
					require.Empty(t, after[table], table)
					delete(before, table)
					delete(after, table)
				}
				require.Equal(t, before, after)

				var again bytes.Buffer
				m2, err := other.WriteArchive(context.Background(), &again, true)
				require.NoError(t, err)
				m.MadeAt, m2.MadeAt = time.Time{}, time.Time{}
				require.Equal(t, m, m2, "the same studio is the same files, byte for byte")

				s2 := servertest.With(t, other, s.Clock, func(*server.Config) {})
				for _, slug := range slugs(t, store) {
					require.Equal(t, string(designerOf(t, s).Get("/designs/"+slug+"/board").Want(200).Body),
						string(designerOf(t, s2).Get("/designs/"+slug+"/board").Want(200).Body))
				}
			})
		}
	}
}

func designerOf(t *testing.T, s *servertest.Studio) *servertest.Client {
	t.Helper()
	people, _, err := s.Store.People(context.Background(), models.Designer, models.Page{})
	require.NoError(t, err)
	return s.For(people[0])
}

func slugs(t *testing.T, store *models.Store) (out []string) {
	t.Helper()
	require.NoError(t, modelstest.Rows(t, store).Raw(`SELECT slug FROM designs ORDER BY slug`).Scan(&out).Error)
	require.NotEmpty(t, out)
	return out
}

// sound is an archive of a small studio.
func soundArchive(t *testing.T) (*models.Store, []byte) {
	t.Helper()
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: modelstest.NewClock().Now})
	modelstest.FillDesigns(t, store, 3, modelstest.Round{Sizes: 3, Points: 2, Reports: 4})
	var file bytes.Buffer
	_, err := store.WriteArchive(context.Background(), &file, true)
	require.NoError(t, err)
	return store, file.Bytes()
}

// TestArchiveByOthersEyes reads an archive with the standard library's zip,
// SHA-256 and JSON alone, as another program would, and counts the rows itself.
func TestArchiveByOthersEyes(t *testing.T) {
	store, raw := soundArchive(t)
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	files := map[string][]byte{}
	for _, f := range z.File {
		in, err := f.Open()
		require.NoError(t, err)
		files[f.Name], err = io.ReadAll(in)
		require.NoError(t, err)
	}
	var m struct {
		Format string `json:"format"`
		Level  int64  `json:"schema_level"`
		Tables []struct {
			Table string `json:"table"`
			Rows  int    `json:"rows"`
			File  struct{ Name, SHA256 string }
		} `json:"tables"`
	}
	require.NoError(t, json.Unmarshal(files["manifest.json"], &m))
	require.Equal(t, "tenter studio", m.Format)
	require.Len(t, files, len(m.Tables)+1)
	all := everything(t, store)
	for _, table := range m.Tables {
		sum := sha256.Sum256(files[table.File.Name])
		require.Equal(t, hex.EncodeToString(sum[:]), table.File.SHA256, table.Table)
		lines := bytes.Split(bytes.TrimSuffix(files[table.File.Name], []byte("\n")), []byte("\n"))
		if len(files[table.File.Name]) == 0 {
			lines = nil
		}
		require.Len(t, lines, table.Rows)
		require.Len(t, all[table.Table], table.Rows)
		for _, line := range lines {
			require.True(t, json.Valid(line), "%s: %s", table.Table, line)
		}
	}
}

// TestArchiveDecidesOnEveryTable walks the schema: a table that is neither in
// nor out, or a column that sounds like a secret and that nobody has looked
// at, fails here.
func TestArchiveDecidesOnEveryTable(t *testing.T) {
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{})
	in, out, secrets := models.ArchiveDecisions()
	db, err := store.SQL()
	require.NoError(t, err)
	rows, err := db.Query(`SELECT m.name, p.name FROM sqlite_master m JOIN pragma_table_info(m.name) p WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%' ORDER BY 1, 2`)
	require.NoError(t, err)
	defer rows.Close()
	tables := map[string]bool{}
	for rows.Next() {
		var table, column string
		require.NoError(t, rows.Scan(&table, &column))
		tables[table] = true
		if out[table] != "" {
			continue
		}
		require.Contains(t, in, table, "a new table: put it into archived or keptOut in models/archive_contents.go")
		for _, sounds := range []string{"secret", "token", "hash", "password", "key", "code", "salt"} {
			if strings.Contains(column, sounds) {
				require.NotEmpty(t, secrets[table+"."+column], "%s.%s sounds like a secret: say in models/archive_contents.go why it may go out, or keep its table out", table, column)
			}
		}
	}
	require.NoError(t, rows.Err())
	for _, table := range in {
		require.True(t, tables[table], "%s is not there any more", table)
		require.Empty(t, out[table], "%s is both in and out", table)
	}
	for table := range out {
		require.True(t, tables[table], "%s is not there any more", table)
	}
}

// rewritten makes an archive whose files are changed by f.
func rewritten(t *testing.T, raw []byte, f func(name string, data []byte) []byte, more ...string) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	put := func(name string, data []byte) {
		into, err := w.Create(name)
		require.NoError(t, err)
		_, err = into.Write(data)
		require.NoError(t, err)
	}
	for _, entry := range z.File {
		in, err := entry.Open()
		require.NoError(t, err)
		data, err := io.ReadAll(in)
		require.NoError(t, err)
		if data = f(entry.Name, data); data != nil {
			put(entry.Name, data)
		}
	}
	for _, name := range more {
		put(name, []byte("more"))
	}
	require.NoError(t, w.Close())
	return out.Bytes()
}

func swapped(in, old, with string) func(string, []byte) []byte {
	return func(name string, data []byte) []byte {
		if name == in {
			return bytes.Replace(data, []byte(old), []byte(with), 1)
		}
		return data
	}
}

// TestArchiveThatIsNotSoundIsRefused tries archives that something happened
// to; nothing of any of them is left behind.
func TestArchiveThatIsNotSoundIsRefused(t *testing.T) {
	_, raw := soundArchive(t)
	m := `"schema_level": `
	for _, row := range []struct {
		name string
		data []byte
		says string
	}{
		{"cut short", raw[:len(raw)-40], "zip archive"},
		{"no archive at all", []byte("PK but nothing"), "zip archive"},
		{"a letter changed", rewritten(t, raw, swapped("tables/designs.jsonl", "Design 2", "Design 7")), "checksum"},
		{"a row less", rewritten(t, raw, func(name string, data []byte) []byte {
			if name == "tables/events.jsonl" {
				return nil
			}
			return data
		}), "not in the archive"},
		{"a file more", rewritten(t, raw, func(_ string, data []byte) []byte { return data }, "tables/more.jsonl"), "does not name"},
		{"a path that leads elsewhere", rewritten(t, raw, func(_ string, data []byte) []byte { return data }, "../../etc/cron.d/x"), "does not name"},
		{"a file twice", rewritten(t, raw, func(_ string, data []byte) []byte { return data }, "tables/designs.jsonl"), "twice"},
		{"a path in the manifest", rewritten(t, raw, swapped("manifest.json", `"tables/designs.jsonl"`, `"tables/../designs.jsonl"`)), "named wrongly"},
		{"another format", rewritten(t, raw, swapped("manifest.json", "tenter studio", "another thing")), "another format"},
		{"made by a later version", rewritten(t, raw, swapped("manifest.json", m, m+"9")), "later version"},
		{"a level that never was", rewritten(t, raw, swapped("manifest.json", m, m+"-")), "schema level"},
		{"no manifest", rewritten(t, raw, func(name string, data []byte) []byte {
			if name == "manifest.json" {
				return nil
			}
			return data
		}), "no manifest.json"},
		{"an unknown column", rewritten(t, raw, swapped("manifest.json", `"name": "slug"`, `"name": "snail"`)), "columns of designs"},
	} {
		for _, kind := range []string{"sqlite", "postgres"} {
			t.Run(row.name+" "+kind, func(t *testing.T) {
				target := fresh(t, kind)
				_, err := server.ArchiveInto(context.Background(), bytes.NewReader(row.data), int64(len(row.data)), target, nil)
				require.ErrorContains(t, err, row.says)
				nothingAt(t, kind, target)
			})
		}
	}
}

func nothingAt(t *testing.T, kind, target string) {
	t.Helper()
	if kind == "sqlite" {
		left, err := os.ReadDir(filepath.Dir(target))
		require.NoError(t, err)
		require.Empty(t, left)
		return
	}
	store, err := models.Open(target, models.Options{})
	require.NoError(t, err)
	defer store.Close()
	db, err := store.SQL()
	require.NoError(t, err)
	at, _, err := migrations.Standing(context.Background(), store.Dialect(), db)
	require.NoError(t, err)
	require.Zero(t, at)
}

// TestArchiveThatBreaksARule is whole, and yet no studio can have been so.
func TestArchiveThatBreaksARule(t *testing.T) {
	store, _ := soundArchive(t)
	require.NoError(t, modelstest.Rows(t, store).Exec(`UPDATE measurements SET cm = cm * 2`).Error)
	var file bytes.Buffer
	_, err := store.WriteArchive(context.Background(), &file, true)
	require.NoError(t, err)
	for _, kind := range []string{"sqlite", "postgres"} {
		t.Run(kind, func(t *testing.T) {
			target := fresh(t, kind)
			_, err := server.ArchiveInto(context.Background(), bytes.NewReader(file.Bytes()), int64(file.Len()), target, nil)
			require.ErrorContains(t, err, "breaks the studio's rules")
			nothingAt(t, kind, target)
		})
	}
}

func TestArchiveGoesIntoAFreshDatabaseOnly(t *testing.T) {
	store, raw := soundArchive(t)
	path := modelstest.SQLite(t)
	targets := map[string]string{"sqlite": path}
	t.Run("sqlite", func(t *testing.T) {
		was, err := os.ReadFile(targets["sqlite"])
		require.NoError(t, err)
		_, err = server.ArchiveInto(context.Background(), bytes.NewReader(raw), int64(len(raw)), path, nil)
		require.ErrorContains(t, err, "fresh database only")
		is, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, was, is)
	})
	t.Run("postgres", func(t *testing.T) {
		target := modelstest.Postgres(t)
		_, err := server.ArchiveInto(context.Background(), bytes.NewReader(raw), int64(len(raw)), target, nil)
		require.ErrorContains(t, err, "fresh database only")
	})
	require.NotNil(t, store)
}

// TestArchiveOfAnEarlierLevel is read at its own level and brought up to date
// by the migrations since.
func TestArchiveOfAnEarlierLevel(t *testing.T) {
	for _, level := range earlierLevels(t) {
		t.Run(fmt.Sprint(level), func(t *testing.T) {
			t.Parallel()
			old := filepath.Join(t.TempDir(), "old.db")
			rows := atLevel(t, old, level)
			store, err := models.Open(old, models.Options{})
			require.NoError(t, err)
			defer store.Close()
			var file bytes.Buffer
			m, err := store.WriteArchive(context.Background(), &file, true)
			require.NoError(t, err)
			require.Equal(t, level, m.Level)
			target := fresh(t, "sqlite")
			_, err = server.ArchiveInto(context.Background(), bytes.NewReader(file.Bytes()), int64(file.Len()), target, nil)
			require.NoError(t, err)
			held, err := models.SoundFile(context.Background(), target)
			require.NoError(t, err)
			require.Greater(t, held.Schema, level)
			for table, n := range rows {
				if _, out := keptOutHere[table]; !out {
					require.Equal(t, n, held.Rows[table], table)
				}
			}
		})
	}
}

var keptOutHere = map[string]bool{"sign_ins": true, "signing_keys": true, "refresh_tokens": true, "idempotency_keys": true, "letters": true, "webhooks": true, "webhook_deliveries": true}

// TestArchiveThroughTheAPI: the designer's download holds no password, and a
// studio that is made of it asks everybody to choose one.
func TestArchiveThroughTheAPI(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		d := s.Designer()
		hash, err := models.HashPassword("a long enough password", "x")
		require.NoError(t, err)
		_, err = s.Store.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: "mara", Roles: []models.Role{models.Tester}, PasswordHash: &hash})
		require.NoError(t, err)
		s.NewPullover(d, "Out")
		a := d.Get("/studio/archive").Want(200)
		require.Equal(t, "application/zip", a.Header.Get("Content-Type"))
		require.Equal(t, `attachment; filename="tenter-studio-2027-02-08.zip"`, a.Header.Get("Content-Disposition"))
		require.Equal(t, "no-store", a.Header.Get("Cache-Control"))
		target := fresh(t, "sqlite")
		m, err := server.ArchiveInto(context.Background(), bytes.NewReader(a.Body), int64(len(a.Body)), target, nil)
		require.NoError(t, err)
		require.Equal(t, []string{"people.password_hash"}, m.LeftOut)
		other, err := server.OpenAsIs(context.Background(), target, models.Options{})
		require.NoError(t, err)
		defer other.Close()
		mara, err := other.PersonByLogin(context.Background(), "mara")
		require.NoError(t, err)
		require.Nil(t, mara.PasswordHash)
		for _, role := range []models.Role{models.Maker, models.Tester} {
			s.As("no-"+string(role), role).Get("/studio/archive").Want(403)
		}
	})
}

// TestArchiveBringsPhotos: files go along, and none stays when the archive
// can't be taken.
func TestArchiveBringsPhotos(t *testing.T) {
	ctx := context.Background()
	from, to := photostore.NewFolder(t.TempDir()), photostore.NewFolder(t.TempDir())
	clock := modelstest.NewClock()
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: clock.Now, Photos: from})
	modelstest.FillDesigns(t, store, 1, modelstest.Round{Sizes: 2, Points: 1, Reports: 2})
	var assignment string
	db := modelstest.Rows(t, store)
	require.NoError(t, db.Raw(`SELECT min(id) FROM assignments`).Scan(&assignment).Error)
	picture := []byte("not really a picture, and the archive does not mind")
	sum := sha256.Sum256(picture)
	file := models.PhotoFile{PhotoID: models.NewID(), Size: "thumb", Hash: hex.EncodeToString(sum[:]), Bytes: int64(len(picture)), Width: 1, Height: 1}
	require.NoError(t, db.Exec(`INSERT INTO photos (id, assignment_id, caption, sent_hash, width, height, revision, created_at, updated_at) VALUES (?, ?, '', 'x', 1, 1, 1, ?, ?)`,
		file.PhotoID, assignment, clock.Now(), clock.Now()).Error)
	for _, size := range []string{"screen", "large", "thumb"} {
		file.Size = size
		require.NoError(t, db.Create(&file).Error)
	}

	var out bytes.Buffer
	for _, size := range []string{"screen", "large", "thumb"} {
		require.NoError(t, from.Put(ctx, models.PhotoKey(file.PhotoID, size), picture))
	}
	m, err := store.WriteArchive(ctx, &out, true)
	require.NoError(t, err)
	require.Len(t, m.Photos, 3)
	require.Empty(t, m.Missing)
	require.NotContains(t, manifestOf(t, out.Bytes()), "missing", "as earlier programs read it")

	_, err = server.ArchiveInto(ctx, bytes.NewReader(out.Bytes()), int64(out.Len()), fresh(t, "sqlite"), nil)
	require.ErrorContains(t, err, "nowhere to keep them")
	_, err = server.ArchiveInto(ctx, bytes.NewReader(out.Bytes()), int64(out.Len()), fresh(t, "sqlite"), to)
	require.NoError(t, err)
	in, err := to.Open(ctx, file.Key())
	require.NoError(t, err)
	got, err := io.ReadAll(in)
	require.NoError(t, err)
	require.NoError(t, in.Close())
	require.Equal(t, picture, got)
}

// BenchmarkArchive writes a studio of a thousand designs and makes a database
// of it.
//
//	go test ./server -run NONE -bench Archive -benchtime 1x
func BenchmarkArchive(b *testing.B) {
	store := modelstest.Open(b, modelstest.SQLite(b), models.Options{Now: modelstest.NewClock().Now})
	modelstest.FillDesigns(b, store, 1000, modelstest.Round{Sizes: 9, Points: 8, Reports: 30})
	path := filepath.Join(b.TempDir(), "studio.zip")
	b.Run("out", func(b *testing.B) {
		for b.Loop() {
			f, err := os.Create(path)
			require.NoError(b, err)
			m, err := store.WriteArchive(context.Background(), f, true)
			require.NoError(b, err)
			require.NoError(b, f.Close())
			b.ReportMetric(float64(m.Total()), "rows")
		}
	})
	b.Run("in", func(b *testing.B) {
		for b.Loop() {
			f, err := os.Open(path)
			require.NoError(b, err)
			info, err := f.Stat()
			require.NoError(b, err)
			_, err = server.ArchiveInto(context.Background(), f, info.Size(), filepath.Join(b.TempDir(), "in.db"), nil)
			require.NoError(b, err)
			require.NoError(b, f.Close())
			b.ReportMetric(float64(info.Size()), "bytes")
		}
	})
}
