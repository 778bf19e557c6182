package handlers

import (
	"archive/zip"
	"context"
	"io"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
)

type pictureInput struct {
	PhotoPath
	Size        string `path:"size" enum:"large,screen,thumb"`
	IfNoneMatch string `header:"If-None-Match" maxLength:"1000"`
}

// picture is a JPEG. A browser keeps it and asks each time whether it may still
// show it: it may have been removed, and the next person at this computer may
// not see it.
type picture struct {
	Status       int
	ContentType  string `header:"Content-Type"`
	CacheControl string `header:"Cache-Control"`
	ETag         string `header:"ETag"`
	Body         []byte
}

const pictureCaching = "private, no-cache"

func (a *api) pictures() {
	op := operation("get-picture", http.MethodGet, "/photos/{photo}/{size}", "A photo's picture in one size", "Photos")
	op.Responses = map[string]*huma.Response{"200": {Description: "A JPEG without any metadata.", Content: map[string]*huma.MediaType{"image/jpeg": {Schema: &huma.Schema{Type: "string", Format: "binary"}}}},
		"304": {Description: "It is the one that If-None-Match names."}}
	add(a, op, a.getPicture)
	add(a, zipped("get-my-photos", "/me/photos.zip", "All photos that I added, as one file", "Sign-in"), a.getMyPhotos)
	add(a, zipped("get-person-photos", "/people/{person}/photos.zip", "All photos that somebody added, as one file", "People"), a.getPersonPhotos)
}

func zipped(id, path, summary, tag string) huma.Operation {
	op := operation(id, http.MethodGet, path, summary, tag)
	op.Responses = map[string]*huma.Response{"200": {Description: "A ZIP file.", Content: map[string]*huma.MediaType{"application/zip": {Schema: &huma.Schema{Type: "string", Format: "binary"}}}}}
	return op
}

func (a *api) getPicture(ctx context.Context, actor models.Actor, in *pictureInput) (*picture, error) {
	file, err := a.Store.PhotoPicture(ctx, actor, in.Photo, in.Size)
	if err != nil {
		return nil, err
	}
	out := &picture{Status: http.StatusOK, ContentType: "image/jpeg", CacheControl: pictureCaching, ETag: `"` + file.Hash + `"`}
	if matches(in.IfNoneMatch, out.ETag) {
		out.Status, out.ContentType = http.StatusNotModified, ""
		return out, nil
	}
	out.Body, err = a.Store.ReadPicture(ctx, *file)
	return out, err
}

func (a *api) getMyPhotos(ctx context.Context, actor models.Actor, _ *struct{}) (*huma.StreamResponse, error) {
	return a.zipOf(ctx, actor.PersonID)
}

func (a *api) getPersonPhotos(ctx context.Context, _ models.Actor, in *PersonPath) (*huma.StreamResponse, error) {
	return a.zipOf(ctx, in.Person)
}

// zipOf sends pictures as they are read; JPEGs don't get any smaller.
func (a *api) zipOf(ctx context.Context, personID string) (*huma.StreamResponse, error) {
	files, err := a.Store.PersonPictures(ctx, personID)
	if err != nil {
		return nil, err
	}
	return &huma.StreamResponse{Body: func(out huma.Context) {
		out.SetHeader("Content-Type", "application/zip")
		out.SetHeader("Content-Disposition", `attachment; filename="tenter-photos.zip"`)
		out.SetHeader("Cache-Control", "no-store")
		if err := a.writeZip(ctx, out.BodyWriter(), files); err != nil {
			// The file is cut off and can't be opened, which tells whoever asked.
			a.Log.ErrorContext(ctx, "photos were not sent whole", "error", err)
		}
	}}, nil
}

func (a *api) writeZip(ctx context.Context, to io.Writer, files []models.PhotoFile) error {
	z := zip.NewWriter(to)
	for _, f := range files {
		content, err := a.Store.ReadPicture(ctx, f)
		if err != nil {
			return err
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: f.PhotoID + ".jpg", Method: zip.Store})
		if err != nil {
			return err
		}
		if _, err := w.Write(content); err != nil {
			return err
		}
	}
	return z.Close()
}
