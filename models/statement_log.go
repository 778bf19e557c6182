package models

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/logger"
)

// slowStatement is when a statement is worth a line in the log (chosen).
const slowStatement = 200 * time.Millisecond

// statementLog is gorm's logger: quiet about values, which may be personal,
// and loud about statements that fail or crawl.
type statementLog struct {
	log     *slog.Logger
	explain func(sql string, args []any) // nil: nobody counts
}

func (l statementLog) LogMode(logger.LogLevel) logger.Interface { return l }
func (l statementLog) Info(context.Context, string, ...any)     {}
func (l statementLog) Warn(context.Context, string, ...any)     {}
func (l statementLog) Error(context.Context, string, ...any)    {}

// ParamsFilter keeps values out of the SQL text that gorm renders, and is where
// a test that counts statements hears of each.
func (l statementLog) ParamsFilter(_ context.Context, sql string, args ...any) (string, []any) {
	if l.explain != nil {
		l.explain(sql, args)
	}
	return sql, nil
}

func (l statementLog) Trace(ctx context.Context, begin time.Time, fc func() (string, int64), err error) {
	elapsed := time.Since(begin)
	expected := err == nil || errors.Is(err, gorm.ErrRecordNotFound) || errors.Is(err, gorm.ErrDuplicatedKey) || errors.Is(err, context.Canceled)
	unremarkable := expected && elapsed < slowStatement
	if unremarkable && l.explain == nil {
		return
	}
	sql, rows := fc()
	if unremarkable {
		return
	}
	l.log.WarnContext(ctx, "statement", "sql", sql, "rows", rows, "ms", elapsed.Milliseconds(), "error", err)
}
