package models

import (
	"database/sql"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // registers "pgx"
	"golang.org/x/sync/semaphore"
	"gorm.io/driver/postgres"
	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
	"gorm.io/gorm/schema"
	modernc "modernc.org/sqlite" // registers "sqlite", the driver without cgo
)

// Connections of each pool. SQLite takes one writer at a time anyway; one
// connection makes writers queue evenly instead of colliding.
const (
	sqliteReaders  = 4
	postgresConns  = 16
	connIdle       = 5 * time.Minute
	sqliteCommon   = "_busy_timeout=10000&_foreign_keys=on&_time_format=sqlite&_timezone=UTC"
	sqliteWriter   = "&_journal_mode=WAL&_synchronous=FULL&_txlock=immediate&_pragma=secure_delete(on)" // what is erased is written over
	sqliteReadOnly = "&mode=ro&_query_only=1"
)

// Options adjust a Store. The zero value is what the server runs with.
type Options struct {
	Now     func() time.Time             // the one clock; nil for the real one
	Log     *slog.Logger                 // nil discards
	Explain func(sql string, args []any) // hears of every statement, for tests that count them
	Photos  PhotoFiles                   // where photos are kept; nil keeps none
	// LookOnly opens an SQLite file without changing a byte of it, so that a
	// copy still has the hash that was written down for it.
	LookOnly bool
}

// Open opens the database at target, a file path (SQLite) or a postgres:// URL,
// without touching its schema.
func Open(target string, opts Options) (*Store, error) {
	if opts.Now == nil {
		opts.Now = time.Now
	}
	if opts.Log == nil {
		opts.Log = slog.New(slog.DiscardHandler)
	}
	quietScans()
	s := &Store{id: NewID(), now: opts.Now, log: opts.Log, feed: newFeed(), expressions: newExpressionCache(), sheets: newSheetCache(), records: newRecordCache(), drawing: make(chan struct{}, schedulesAtOnce), diagnoses: newDiagnosisCache(), photos: opts.Photos, decoding: semaphore.NewWeighted(decodingMemory)}
	cfg := &gorm.Config{
		SkipDefaultTransaction: true, // every write opens its own
		PrepareStmt:            true,
		TranslateError:         true,
		NowFunc:                s.Now,
		Logger:                 statementLog{opts.Log},
		NamingStrategy:         schema.NamingStrategy{},
	}
	var err error
	if strings.HasPrefix(target, "postgres://") || strings.HasPrefix(target, "postgresql://") {
		err = s.openPostgres(target, cfg)
	} else {
		err = s.openSQLite(target, cfg, opts.LookOnly)
	}
	if err != nil {
		return nil, err
	}
	if opts.Explain != nil {
		// On PostgreSQL the two are one handle.
		err = explainStatements(s.reader, opts.Explain)
		if s.writer != s.reader {
			err = errors.Join(err, explainStatements(s.writer, opts.Explain))
		}
		if err != nil {
			return nil, errors.Join(fmt.Errorf("count statements: %w", err), s.Close())
		}
	}
	return s, nil
}

func (s *Store) openPostgres(target string, cfg *gorm.Config) error {
	pool, err := sql.Open("pgx", target)
	if err != nil {
		return fmt.Errorf("open PostgreSQL: %w", err)
	}
	pool.SetMaxOpenConns(postgresConns)
	pool.SetConnMaxIdleTime(connIdle)
	db, err := gorm.Open(postgres.New(postgres.Config{Conn: pool}), cfg)
	if err != nil {
		return errors.Join(fmt.Errorf("open PostgreSQL: %w", err), pool.Close())
	}
	s.dialect, s.target, s.writer, s.reader = "postgres", target, db, db
	s.pools = []*sql.DB{pool}
	return nil
}

func (s *Store) openSQLite(path string, cfg *gorm.Config, lookOnly bool) error {
	if path == "" || strings.Contains(path, ":memory:") {
		return errors.New("database: name a file; an in-memory database would give each connection its own")
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("database folder: %w", err)
	}
	base := fileAddress(path) + "?" + sqliteCommon
	how := sqliteWriter
	if lookOnly {
		how = sqliteReadOnly
	}
	writer, err := sql.Open("sqlite", base+how)
	if err != nil {
		return fmt.Errorf("open SQLite: %w", err)
	}
	writer.SetMaxOpenConns(1)
	// The file has to exist, in WAL, before a reader can open it read-only.
	if err := writer.Ping(); err != nil {
		return errors.Join(fmt.Errorf("open %s: %w", path, err), writer.Close())
	}
	reader, err := sql.Open("sqlite", base+sqliteReadOnly)
	if err != nil {
		return errors.Join(fmt.Errorf("open SQLite: %w", err), writer.Close())
	}
	reader.SetMaxOpenConns(sqliteReaders)
	reader.SetMaxIdleConns(sqliteReaders)
	s.dialect, s.pools = "sqlite", []*sql.DB{reader, writer}
	if s.writer, err = gorm.Open(sqliteDialector{sqlite.Dialector{Conn: writer}}, cfg); err == nil {
		s.reader, err = gorm.Open(sqliteDialector{sqlite.Dialector{Conn: reader}}, cfg)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("open SQLite: %w", err), s.Close())
	}
	return nil
}

// sqliteDialector is gorm's own SQLite dialect over the driver without cgo,
// whose error codes the original does not know.
type sqliteDialector struct{ sqlite.Dialector }

// SQLite's extended result codes, https://www.sqlite.org/rescode.html.
const (
	primaryCode                = 0xff // what is common to the extended codes of one kind
	sqliteBusy                 = 5
	sqliteLocked               = 6
	sqliteCorrupt              = 11
	sqliteFull                 = 13
	sqliteNotADatabase         = 26
	sqliteNoRoomForSharedFile  = 4874 // SQLITE_IOERR_SHMSIZE
	sqliteConstraintCheck      = 275
	sqliteConstraintForeignKey = 787
	sqliteConstraintPrimaryKey = 1555
	sqliteConstraintUnique     = 2067
)

// Translate maps the driver's constraint errors to gorm's.
func (d sqliteDialector) Translate(err error) error {
	var e *modernc.Error
	if errors.As(err, &e) {
		switch e.Code() {
		case sqliteConstraintPrimaryKey, sqliteConstraintUnique:
			return gorm.ErrDuplicatedKey
		case sqliteConstraintForeignKey:
			return gorm.ErrForeignKeyViolated
		case sqliteConstraintCheck:
			return gorm.ErrCheckConstraintViolated
		}
	}
	return err
}
