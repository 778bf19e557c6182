package models

import (
	"context"
	"errors"
	"log/slog"
	"sync"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/logger"
)

// slowStatement is when a statement is worth a line in the log (chosen).
const slowStatement = 200 * time.Millisecond

// statementLog is gorm's logger: quiet about values, which may be personal,
// and loud about statements that fail or crawl.
type statementLog struct{ log *slog.Logger }

func (l statementLog) LogMode(logger.LogLevel) logger.Interface { return l }
func (l statementLog) Info(context.Context, string, ...any)     {}
func (l statementLog) Warn(context.Context, string, ...any)     {}
func (l statementLog) Error(context.Context, string, ...any)    {}

// ParamsFilter keeps values out of the SQL text that gorm renders.
func (l statementLog) ParamsFilter(_ context.Context, sql string, _ ...any) (string, []any) {
	return sql, nil
}

func (l statementLog) Trace(ctx context.Context, begin time.Time, fc func() (string, int64), err error) {
	elapsed := time.Since(begin)
	expected := err == nil || errors.Is(err, gorm.ErrRecordNotFound) || errors.Is(err, gorm.ErrDuplicatedKey) || errors.Is(err, context.Canceled)
	if expected && elapsed < slowStatement {
		return
	}
	sql, rows := fc()
	l.log.WarnContext(ctx, "statement", "sql", sql, "rows", rows, "ms", elapsed.Milliseconds(), "error", err)
}

var quietRecorder sync.Once

// quietScans makes gorm's Scan as quiet about values as the rest. Scan renders
// its statement by a recorder of its own, whose filter is a variable of gorm's
// package; it is set once for the process.
func quietScans() {
	quietRecorder.Do(func() {
		logger.RecorderParamsFilter = func(_ context.Context, sql string, _ ...any) (string, []any) { return sql, nil }
	})
}

// explainStatements tells explain of every statement that db carries out.
func explainStatements(db *gorm.DB, explain func(sql string, args []any)) error {
	tell := func(db *gorm.DB) { explain(db.Statement.SQL.String(), db.Statement.Vars) }
	const name = "tenter:explain"
	return errors.Join(
		db.Callback().Query().After("gorm:query").Register(name, tell),
		db.Callback().Row().After("gorm:row").Register(name, tell),
		db.Callback().Raw().After("gorm:raw").Register(name, tell),
		db.Callback().Create().After("gorm:create").Register(name, tell),
		db.Callback().Update().After("gorm:update").Register(name, tell),
		db.Callback().Delete().After("gorm:delete").Register(name, tell),
	)
}
