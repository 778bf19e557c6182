package models

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestUnchanged(t *testing.T) {
	at := time.Date(2027, 2, 8, 9, 30, 0, 0, time.UTC)
	elsewhere, later := at.In(time.FixedZone("elsewhere", 3600)), at.Add(time.Microsecond)
	note, other := "note", "another"
	for _, row := range []struct {
		name          string
		before, after Shot
		same          bool
	}{
		{"nothing", Shot{}, Shot{}, true},
		{"the same moment in another zone", Shot{CreatedAt: at}, Shot{CreatedAt: elsewhere}, true},
		{"a microsecond later", Shot{CreatedAt: at}, Shot{CreatedAt: later}, false},
		{"no list and an empty one", Shot{}, Shot{Numbers: []ShotNumber{}}, true},
		{"one entry more", Shot{}, Shot{Numbers: []ShotNumber{{}}}, false},
		{"an entry within", Shot{Tails: []ShotTail{{Seam: "a"}}}, Shot{Tails: []ShotTail{{Seam: "b"}}}, false},
		{"another pointer to the same", Shot{FromState: &note}, Shot{FromState: new("note")}, true},
		{"a pointer to another", Shot{FromState: &note}, Shot{FromState: &other}, false},
		{"a pointer that goes", Shot{FromState: &note}, Shot{}, false},
		{"a text", Shot{Title: "a"}, Shot{Title: "b"}, false},
		{"a number", Shot{Position: 1}, Shot{Position: 2}, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.Equal(t, row.same, unchanged(&row.before, &row.after))
			require.Equal(t, row.same, unchanged(&row.after, &row.before))
		})
	}
}
