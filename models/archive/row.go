package archive

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"time"
)

// moment is how times are written: UTC, always with six digits, so that the
// same moment is always the same bytes.
const moment = "2006-01-02T15:04:05.000000Z"

// appendRow writes a row as one JSON object, its columns in order, and a line
// feed. The same row is always the same bytes.
func appendRow(out []byte, columns []Column, row []any) ([]byte, error) {
	if len(row) != len(columns) {
		return out, fmt.Errorf("a row has %d cells for %d columns", len(row), len(columns))
	}
	out = append(out, '{')
	for i, c := range columns {
		if i > 0 {
			out = append(out, ',')
		}
		out = append(strconv.AppendQuote(out, c.Name), ':')
		var err error
		if out, err = appendCell(out, c.Kind, row[i]); err != nil {
			return out, fmt.Errorf("column %s: %w", c.Name, err)
		}
	}
	return append(out, '}', '\n'), nil
}

func appendCell(out []byte, kind Kind, cell any) ([]byte, error) {
	switch v := cell.(type) {
	case nil:
		return append(out, "null"...), nil
	case bool:
		if kind == Boolean {
			return strconv.AppendBool(out, v), nil
		}
	case int64:
		if kind == Integer {
			return strconv.AppendInt(out, v, 10), nil
		}
	case float64:
		if kind == Number && !math.IsNaN(v) && !math.IsInf(v, 0) {
			return strconv.AppendFloat(out, v, 'g', -1, 64), nil
		}
	case time.Time:
		if kind == Moment {
			return v.UTC().AppendFormat(append(out, '"'), moment+`"`), nil
		}
	case []byte:
		if kind == Bytes {
			return append(base64.StdEncoding.AppendEncode(append(out, '"'), v), '"'), nil
		}
	case string:
		if kind == Text {
			text, err := json.Marshal(v)
			return append(out, text...), err
		}
	}
	return out, fmt.Errorf("a %T that can't stand in a column of kind %s", cell, kind)
}

// readRow reads one line. Each column has to be there once, nothing else.
func readRow(line []byte, columns []Column, row []any) error {
	var cells map[string]json.RawMessage
	dec := json.NewDecoder(bytes.NewReader(line))
	if err := dec.Decode(&cells); err != nil {
		return errors.New("is no JSON object")
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return errors.New("has something behind its JSON object")
	}
	if len(cells) != len(columns) {
		return fmt.Errorf("has %d cells for %d columns", len(cells), len(columns))
	}
	for i, c := range columns {
		raw, there := cells[c.Name]
		if !there {
			return fmt.Errorf("has no %s", c.Name)
		}
		var err error
		if row[i], err = readCell(raw, c.Kind); err != nil {
			return fmt.Errorf("%s is not of kind %s", c.Name, c.Kind)
		}
	}
	return nil
}

func readCell(raw json.RawMessage, kind Kind) (any, error) {
	if string(raw) == "null" {
		return nil, nil
	}
	switch kind {
	case Integer:
		return strconv.ParseInt(string(raw), 10, 64)
	case Number:
		var v float64
		err := json.Unmarshal(raw, &v)
		return v, err
	case Boolean:
		var v bool
		err := json.Unmarshal(raw, &v)
		return v, err
	case Bytes:
		v := []byte{}
		err := json.Unmarshal(raw, &v)
		return v, err
	case Moment:
		var v string
		if err := json.Unmarshal(raw, &v); err != nil {
			return nil, err
		}
		return time.Parse(moment, v)
	}
	var v string
	err := json.Unmarshal(raw, &v)
	return v, err
}
