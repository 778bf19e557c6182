package table_test

import (
	"fmt"
	"strings"
	"testing"

	"tenter/models/table"
)

// The largest table that is taken, with a sign-up form's nine columns.
func BenchmarkReadTenThousandRows(b *testing.B) {
	var text strings.Builder
	text.WriteString("Timestamp,Handle,E-mail,Sizes,Accepted,Finished,Units,Terms,Remarks\n")
	for i := range table.MaxRows {
		fmt.Fprintf(&text, "2027-02-01 08:00,tester%d,tester%d@testers.example,1 / 2 / 3,%d,%d,cm,US,\"prefers cotton, \"\"no wool\"\" please\"\n", i, i, i%9, i%9)
	}
	data := []byte(text.String())
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := table.Read(data); err != nil {
			b.Fatal(err)
		}
	}
}
