// Package models holds the studio's entities, their rules and their storage.
//
// One file holds one entity: its type (the doc comment tells the rules), its
// validation, and the Store methods that read and write it. Every method that
// answers for somebody takes the Actor explicitly; every write goes through
// Store.change, which opens the transaction, fixes the time, keeps the
// idempotency key and lets the live feed know after the commit.
//
// The arithmetic lives in the packages below this one (gauge, counts, compare,
// fit, yarn, assign, film, schedule), which know nothing of databases.
package models
