package server_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server"
)

func TestPhotoSettings(t *testing.T) {
	objects := server.PhotoSettings{Photos: "s3://studio/photos", S3Endpoint: "https://objects.example", S3Key: "key", S3Secret: "secret"}
	for _, row := range []struct {
		name   string
		change func(*server.PhotoSettings)
		fault  string // the setting at fault, "" for none
	}{
		{"beside the database", func(p *server.PhotoSettings) { *p = server.PhotoSettings{} }, ""},
		{"a folder", func(p *server.PhotoSettings) { *p = server.PhotoSettings{Photos: "/srv/photos"} }, ""},
		{"an object store", func(*server.PhotoSettings) {}, ""},
		{"another scheme", func(p *server.PhotoSettings) { p.Photos = "ftp://studio" }, "TENTER_PHOTOS"},
		{"no bucket", func(p *server.PhotoSettings) { p.Photos = "s3://" }, "TENTER_PHOTOS"},
		{"no address", func(p *server.PhotoSettings) { p.S3Endpoint = "" }, "TENTER_S3_ENDPOINT"},
		{"an address without a scheme", func(p *server.PhotoSettings) { p.S3Endpoint = "objects.example" }, "TENTER_PHOTOS"},
		{"no key", func(p *server.PhotoSettings) { p.S3Key = "" }, "TENTER_S3_KEY"},
		{"no secret", func(p *server.PhotoSettings) { p.S3Secret = "" }, "TENTER_S3_SECRET"},
	} {
		t.Run(row.name, func(t *testing.T) {
			config, err := server.DefaultConfig()
			require.NoError(t, err)
			config.PhotoSettings = objects
			row.change(&config.PhotoSettings)
			err = config.Check()
			if row.fault == "" {
				require.NoError(t, err)
				return
			}
			var fault *server.SettingError
			require.ErrorAs(t, err, &fault)
			require.Equal(t, row.fault, fault.Name)
			require.NotContains(t, err.Error(), "secret")
		})
	}
}
