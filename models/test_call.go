package models

// Slot is how many testers a call wants for one size: fewest <= wanted <= most.
type Slot struct {
	TestCallID string `gorm:"primaryKey"`
	SizeID     string `gorm:"primaryKey"`
	Fewest     int
	Wanted     int
	Most       int
}
