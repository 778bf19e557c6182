// Package demo fills a fresh database with an invented studio.
package demo

import (
	"context"

	"tenter/models"
)

// Password opens every sign-in of the demo.
const Password = "measure twice"

// SignIn is somebody whom a visitor can be.
type SignIn struct{ Handle, ComesFor string }

// Fill writes the invented studio and returns its sign-ins.
func Fill(ctx context.Context, store *models.Store) ([]SignIn, error) {
	if err := store.EnsureStudio(ctx, "The Willow Loft (invented)", "UTC", true); err != nil {
		return nil, err
	}
	hash, err := models.HashPassword(Password)
	if err != nil {
		return nil, err
	}
	people := []SignIn{{"odile", "the designer"}}
	_, err = store.AddPerson(ctx, models.System("demo"), models.NewPerson{Handle: "odile", Name: "Odile Farthingale", Roles: []models.Role{models.Designer}, PasswordHash: &hash})
	return people, err
}
