package models

import (
	"errors"
	"strings"
	"sync"

	"tenter/models/counts"
)

// expressionCache keeps compiled expressions: a board evaluates the same few
// for every size at every view. An expression is compiled against the names of
// its count sheet, so both make the key.
type expressionCache struct {
	mu   sync.Mutex
	kept map[string]compiled
}

type compiled struct {
	expr *counts.Expression
	err  error
}

// mostCompiled bounds the cache; a full one starts over, which costs one
// compilation for each expression in use.
const mostCompiled = 5000

func newExpressionCache() *expressionCache { return &expressionCache{kept: map[string]compiled{}} }

// compile returns the compiled expression over the names, which are given
// joined by spaces so that the key costs nothing to make.
func (c *expressionCache) compile(source, names string) (*counts.Expression, error) {
	key := source + "\x00" + names
	c.mu.Lock()
	defer c.mu.Unlock()
	if k, ok := c.kept[key]; ok {
		return k.expr, k.err
	}
	expr, err := counts.Compile(source, strings.Fields(names))
	if len(c.kept) >= mostCompiled {
		clear(c.kept)
	}
	c.kept[key] = compiled{expr, err}
	return expr, err
}

// calculation turns a calculation's complaint into a problem of this request's
// field.
func (p *problems) calculation(field string, err error) {
	if err != nil {
		p.addf(field, "%s", calculationProblem(err))
	}
}

// calculationProblem is what a calculation complains of, without the path of
// its own input.
func calculationProblem(err error) string {
	var f interface{ FieldPath() string }
	if errors.As(err, &f) {
		return strings.TrimPrefix(err.Error(), f.FieldPath()+": ")
	}
	return err.Error()
}

// checkExpressions compiles every rule against the sheet's own names.
func (s Sheet) checkExpressions() error {
	var p problems
	names := s.Names()
	for i, r := range s.Rules {
		_, err := counts.Compile(r.Expr, names)
		p.calculation(ruleField(i), err)
	}
	return p.err()
}
