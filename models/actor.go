package models

import (
	"context"
	"slices"
)

// Role is what somebody comes to do. A person may have several.
type Role string

// The roles of design work, and the testers, who are outsiders.
const (
	Designer   Role = "designer"
	TechEditor Role = "tech_editor"
	Maker      Role = "maker"
	Filmer     Role = "filmer"
	Tester     Role = "tester"
)

// Roles lists every role, the studio's own people first.
func Roles() []Role { return []Role{Designer, TechEditor, Maker, Filmer, Tester} }

// Staff lists the roles of the studio's own people.
func Staff() []Role { return []Role{Designer, TechEditor, Maker, Filmer} }

// Actor is who asks: the person, what they may do, and the request that
// carried the wish. Every Store method that depends on the asker takes one.
type Actor struct {
	PersonID string
	FamilyID string // the sign-in that this request belongs to
	Roles    []Role
	// SetUpFirst: nothing is allowed but setting up the second step.
	SetUpFirst bool
	// Unchecked: a sign-in came with the request, and the database could not
	// say whether it is still good. There is no PersonID then.
	Unchecked bool
	RequestID string
	Key       *IdempotencyKey // of the request, when it brought one
}

// Has tells whether the actor has one of the roles.
func (a Actor) Has(roles ...Role) bool {
	for _, r := range roles {
		if slices.Contains(a.Roles, r) {
			return true
		}
	}
	return false
}

// IsStaff tells whether the actor is one of the studio's own people.
func (a Actor) IsStaff() bool { return a.Has(Staff()...) }

// System is the actor of what the server does by itself: first start, demo.
func System(requestID string) Actor {
	return Actor{RequestID: requestID, Roles: []Role{Designer}}
}

type actorKey struct{}

// WithActor puts the actor into a request's context.
func WithActor(ctx context.Context, a Actor) context.Context {
	return context.WithValue(ctx, actorKey{}, a)
}

// ActorFrom returns the request's actor; ok is false when nobody is signed in.
func ActorFrom(ctx context.Context) (Actor, bool) {
	a, ok := ctx.Value(actorKey{}).(Actor)
	return a, ok && a.PersonID != ""
}
