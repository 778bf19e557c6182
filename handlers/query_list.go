package handlers

import (
	"fmt"
	"strconv"
	"strings"

	"tenter/models/gauge"
)

// between parts the texts of a query parameter at their commas. A parameter
// that is repeated is read as one list: what is sent twice must not be lost.
func between(sent []string) []string {
	var out []string
	for _, s := range sent {
		for _, part := range strings.Split(s, ",") {
			if part = strings.TrimSpace(part); part != "" {
				out = append(out, part)
			}
		}
	}
	return out
}

// numbersIn reads the texts of a list as numbers.
func numbersIn(field string, texts []string) ([]float64, error) {
	out := make([]float64, len(texts))
	for i, text := range texts {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return nil, gauge.Wrongf(fmt.Sprintf("%s[%d]", field, i), "is not a number; write it like 91.5")
		}
		out[i] = x
	}
	return out, nil
}
