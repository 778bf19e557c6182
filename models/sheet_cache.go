package models

import (
	"fmt"
	"sync"

	"gorm.io/gorm"
)

// sheetCache keeps what the arithmetic says of the versions that go out. A count
// sheet changes seldom and a board is looked at often; version and design
// revisions in the key make a changed one miss.
type sheetCache struct {
	mu   sync.Mutex
	kept map[string]*SheetCheck
}

// mostSheets bounds the cache; a full one starts over.
const mostSheets = 2000

func newSheetCache() *sheetCache { return &sheetCache{kept: map[string]*SheetCheck{}} }

// checkedVersion returns the check of a version, computed anew only when the
// version or its design has changed.
func (s *Store) checkedVersion(db *gorm.DB, design *Design, version Version) (*SheetCheck, error) {
	key := fmt.Sprintf("%s %d %s %d", version.ID, version.Revision, design.ID, design.Revision)
	s.sheets.mu.Lock()
	kept := s.sheets.kept[key]
	s.sheets.mu.Unlock()
	if kept != nil {
		return kept, nil
	}
	sheet, err := sheetIn(db, version)
	if err != nil {
		return nil, err
	}
	check, err := s.checkSheet(db, design, sheet)
	if err != nil {
		return nil, err
	}
	s.sheets.mu.Lock()
	defer s.sheets.mu.Unlock()
	if len(s.sheets.kept) >= mostSheets {
		clear(s.sheets.kept)
	}
	s.sheets.kept[key] = check
	return check, nil
}
