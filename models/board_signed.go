package models

import (
	"database/sql"
	"fmt"

	"gorm.io/gorm"
)

// boardSigned is the latest word of a tech editor on the latest version.
type boardSigned struct {
	standing bool
	why      string // it was withdrawn
}

func (r *boardRows) readSigned(db *gorm.DB) error {
	return query(db, func(rows *sql.Rows) error {
		r.signed = &boardSigned{}
		return rows.Scan(&r.signed.standing, &r.signed.why)
	}, `SELECT withdrawn_at IS NULL, withdrawn_why FROM sign_offs WHERE version_id = ? ORDER BY id DESC LIMIT 1`, r.version.ID)
}

// isSigned tells whether a sign-off of the latest version stands: then every
// failure of its check is answered in writing.
func (r *boardRows) isSigned() bool { return r.signed != nil && r.signed.standing }

// whySigned tells what is missing of the tech editor's sign-off.
func (r *boardRows) whySigned(b *Board) string {
	switch {
	case r.isSigned():
		return ""
	case r.signed != nil:
		return fmt.Sprintf("The sign-off of version %d was withdrawn: %s", b.Version.Number, r.signed.why)
	}
	return fmt.Sprintf("Version %d is not signed off by a tech editor yet.", b.Version.Number)
}
