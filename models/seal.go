package models

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"gorm.io/gorm"
)

// sealedSheet is what of a count sheet may never change once a tester has it,
// in a form that is the same on both databases.
type sealedSheet struct {
	Counts []sealedCount
	Rules  []string
}

type sealedCount struct {
	Name, Unit, Note string
	Values           []CountValue // without the count's own id
}

// sealIn returns the hash by which a version can be known again.
func sealIn(db *gorm.DB, v Version) (*string, error) {
	sheet, err := sheetIn(db, v)
	if err != nil {
		return nil, err
	}
	hash, err := sheet.seal()
	return &hash, err
}

func (s Sheet) seal() (string, error) {
	var in sealedSheet
	for _, c := range s.Counts {
		line := sealedCount{c.Name, c.Unit, c.Note, slices.Clone(c.Values)}
		for i := range line.Values {
			line.Values[i].CountID = ""
		}
		// The order of sizes may change, what each of them is told may not.
		slices.SortFunc(line.Values, func(a, b CountValue) int { return strings.Compare(a.SizeID, b.SizeID) })
		in.Counts = append(in.Counts, line)
	}
	for _, r := range s.Rules {
		in.Rules = append(in.Rules, r.Name+"\x00"+r.says())
	}
	raw, err := json.Marshal(in)
	if err != nil {
		return "", fmt.Errorf("seal the version: %w", err)
	}
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:]), nil
}
