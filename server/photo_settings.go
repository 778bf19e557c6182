package server

import (
	"net/url"
	"path/filepath"
	"regexp"
	"strings"

	"tenter/models"
	"tenter/server/photostore"
)

// PhotoSettings say where photos are kept.
type PhotoSettings struct {
	Photos     string `env:"TENTER_PHOTOS" help:"Where photos are kept: a folder, or s3://bucket/prefix. Empty: beside the database, in a folder named after it."`
	S3Endpoint string `name:"s3-endpoint" env:"TENTER_S3_ENDPOINT" help:"Address of the object store, for s3://: https://objects.example."`
	S3Region   string `name:"s3-region" default:"us-east-1" env:"TENTER_S3_REGION" help:"Region of the bucket, for s3://."`
	S3Key      Secret `name:"s3-key" env:"TENTER_S3_KEY" help:"Access key, for s3://."`
	S3Secret   Secret `name:"s3-secret" env:"TENTER_S3_SECRET" help:"Secret key, for s3://."`
}

// photosBehind is what the folder of a SQLite database's photos has behind the
// database's own name; a copy's has it behind the copy's.
const photosBehind = ".photos"

// postgresPhotos holds a folder for the photos of each database that is no
// file. Two in one folder would sweep each other's files.
const postgresPhotos = "data/photos"

func (p PhotoSettings) inObjects() bool { return strings.HasPrefix(p.Photos, "s3://") }

func (p PhotoSettings) check() error {
	if !p.inObjects() {
		if strings.Contains(p.Photos, "://") {
			return &SettingError{"TENTER_PHOTOS", "is neither a folder nor s3://bucket/prefix"}
		}
		return nil
	}
	for _, needed := range []struct{ name, value string }{
		{"TENTER_S3_ENDPOINT", p.S3Endpoint}, {"TENTER_S3_KEY", string(p.S3Key)}, {"TENTER_S3_SECRET", string(p.S3Secret)},
	} {
		if needed.value == "" {
			return &SettingError{needed.name, "is needed because TENTER_PHOTOS names an object store"}
		}
	}
	if _, err := p.Open(""); err != nil {
		return &SettingError{"TENTER_PHOTOS", err.Error()}
	}
	return nil
}

// Open returns the store of the photos of a database. Nothing is made or asked
// until there is a photo.
func (p PhotoSettings) Open(database string) (models.PhotoFiles, error) {
	if p.inObjects() {
		return photostore.NewObjects(p.Photos, photostore.Access{Endpoint: p.S3Endpoint, Region: p.S3Region, Key: string(p.S3Key), Secret: string(p.S3Secret)})
	}
	return photostore.NewFolder(p.folder(database)), nil
}

func (p PhotoSettings) folder(database string) string {
	switch {
	case p.Photos != "":
		return p.Photos
	case IsPostgres(database):
		return filepath.Join(filepath.FromSlash(postgresPhotos), databaseName(database))
	}
	return database + photosBehind
}

var inFolderName = regexp.MustCompile(`[^A-Za-z0-9_-]`)

// databaseName is the name of the database in a postgres:// address, as a
// folder may be called.
func databaseName(address string) string {
	name := "postgres"
	if u, err := url.Parse(address); err == nil && strings.Trim(u.Path, "/") != "" {
		name = strings.Trim(u.Path, "/")
	}
	return inFolderName.ReplaceAllString(name, "_")
}
