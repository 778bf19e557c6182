package handlers

import (
	"context"
	"io"
	"net/http"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
	"tenter/models/photo"
)

// Photo is a picture of a tester's piece or of a sample.
type Photo struct {
	ID       string         `json:"id"`
	SampleID *string        `json:"sample_id,omitempty"`
	Caption  string         `json:"caption" doc:"What it shows; also read out in place of it."`
	AddedAt  time.Time      `json:"added_at"`
	Yours    bool           `json:"yours" doc:"Whether you may caption it, and remove it as long as that can be done."`
	Pictures []PhotoPicture `json:"pictures" doc:"The largest first."`
	Revision int            `json:"revision"`
}

// PhotoPicture is one size of a photo.
type PhotoPicture struct {
	Size   string `json:"size" enum:"large,screen,thumb"`
	Href   string `json:"href" doc:"Where the JPEG is."`
	Width  int    `json:"width" doc:"Pixels."`
	Height int    `json:"height" doc:"Pixels."`
	Bytes  int64  `json:"bytes"`
}

// PhotoLimits are what a photo may be at most.
type PhotoLimits struct {
	Most        int      `json:"most" doc:"Photos in this place."`
	MostBytes   int64    `json:"most_bytes" doc:"Of a file as it is sent."`
	MostPixels  int      `json:"most_pixels"`
	LongestEdge int      `json:"longest_edge" doc:"Pixels."`
	Large       int      `json:"large" doc:"Longest edge of the largest picture that is kept, in pixels; sending more is of no use."`
	Kinds       []string `json:"kinds" doc:"Media types that can be read, told by the content."`
	Caption     int      `json:"caption" doc:"Characters of a caption."`
}

// Photos are the photos of one place.
type Photos struct {
	Items  []Photo     `json:"items" doc:"The first one first."`
	Limits PhotoLimits `json:"limits"`
}

func photoView(actor models.Actor) func(models.Photo) Photo {
	return func(p models.Photo) Photo {
		return Photo{ID: p.ID, SampleID: p.SampleID, Caption: p.Caption, AddedAt: p.CreatedAt, Revision: p.Revision, Yours: p.MayChange(actor),
			Pictures: each(p.Files, func(f models.PhotoFile) PhotoPicture {
				return PhotoPicture{f.Size, Prefix + "/photos/" + p.ID + "/" + f.Size, f.Width, f.Height, f.Bytes}
			})}
	}
}

// PhotoPath names a photo.
type PhotoPath struct {
	Photo string `path:"photo" maxLength:"36"`
}

// SentPhoto is a photo as it is sent: the file is the whole body, whatever the
// request says of its type.
type SentPhoto struct {
	Caption string `query:"caption" maxLength:"300" doc:"What it shows."`
	body    unbroken
}

// Resolve takes hold of the body, so that it is never in memory as a whole.
func (s *SentPhoto) Resolve(ctx huma.Context) []error {
	s.body.from = ctx.BodyReader()
	return nil
}

// unbroken remembers that a body could not be read to its end.
type unbroken struct {
	from io.Reader
	err  error
}

func (u *unbroken) Read(p []byte) (int, error) {
	if u.from == nil {
		return 0, io.EOF
	}
	n, err := u.from.Read(p)
	if err != nil && err != io.EOF {
		u.err = err
	}
	return n, err
}

type reportPhotoInput struct {
	AssignmentPath
	SentPhoto
}

type samplePhotoInput struct {
	SamplePath
	SentPhoto
}

type captionInput struct {
	PhotoPath
	Precondition
	Body struct {
		Caption *string `json:"caption,omitempty"`
	}
}

func (a *api) photos() {
	add(a, operation("list-report-photos", http.MethodGet, "/assignments/{assignment}/photos", "Photos of a tester's piece: all for the tester, for staff as soon as there is a report", "Photos"), a.getReportPhotos)
	add(a, photoIn("add-report-photo", "/assignments/{assignment}/photos", "Add a photo of my piece"), a.postReportPhoto)
	add(a, operation("list-sample-photos", http.MethodGet, "/samples/{sample}/photos", "Photos of a sample", "Photos"), a.getSamplePhotos)
	add(a, photoIn("add-sample-photo", "/samples/{sample}/photos", "Add a photo of a sample"), a.postSamplePhoto)
	add(a, operation("get-photo", http.MethodGet, "/photos/{photo}", "A photo", "Photos"), a.getPhoto)
	add(a, operation("caption-photo", http.MethodPatch, "/photos/{photo}", "Say what a photo shows", "Photos"), a.patchPhoto)
	add(a, operation("remove-photo", http.MethodDelete, "/photos/{photo}", "Remove a photo and its files for good; a tester may until their report is approved", "Photos"), a.deletePhoto)
	a.pictures()
}

// photoIn is an operation whose body is a picture.
func photoIn(id, path, summary string) huma.Operation {
	op := created(operation(id, http.MethodPost, path, summary, "Photos"))
	op.Parameters = nil // it needs no Idempotency-Key
	op.BodyReadTimeout = -1
	op.Description = "The body is the file itself. What it is is told by its content; of what it holds besides the picture, nothing is kept. " +
		"The same file sent to the same place again is answered with the photo that it has become, with status 200: send it again as often as it takes."
	op.RequestBody = &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{}}
	for _, kind := range photo.Kinds() {
		op.RequestBody.Content[kind] = &huma.MediaType{Schema: &huma.Schema{Type: "string", Format: "binary"}}
	}
	return op
}

func photoLimits(most int) PhotoLimits {
	return PhotoLimits{Most: most, MostBytes: models.MostPhotoBytes, MostPixels: photo.MostPixels, LongestEdge: photo.LongestEdge,
		Large: photo.Largest, Kinds: photo.Kinds(), Caption: models.LongestCaption}
}

func (a *api) photosOf(ctx context.Context, actor models.Actor, place models.PhotoPlace) (*plain[Photos], error) {
	rows, err := a.Store.Photos(ctx, actor, place)
	if err != nil {
		return nil, err
	}
	return &plain[Photos]{Photos{each(rows, photoView(actor)), photoLimits(place.Most())}}, nil
}

func (a *api) getReportPhotos(ctx context.Context, actor models.Actor, in *AssignmentPath) (*plain[Photos], error) {
	return a.photosOf(ctx, actor, models.PhotoPlace{AssignmentID: in.Assignment})
}

func (a *api) getSamplePhotos(ctx context.Context, actor models.Actor, in *SamplePath) (*plain[Photos], error) {
	return a.photosOf(ctx, actor, models.PhotoPlace{SampleID: in.Sample})
}

// photoMade is 201 for a new photo, 200 for one that was there.
type photoMade struct {
	Status   int
	ETag     string `header:"ETag"`
	Location string `header:"Location"`
	Body     Photo
}

func (a *api) postReportPhoto(ctx context.Context, actor models.Actor, in *reportPhotoInput) (*photoMade, error) {
	return a.addPhoto(ctx, actor, models.PhotoPlace{AssignmentID: in.Assignment}, &in.SentPhoto)
}

func (a *api) postSamplePhoto(ctx context.Context, actor models.Actor, in *samplePhotoInput) (*photoMade, error) {
	return a.addPhoto(ctx, actor, models.PhotoPlace{SampleID: in.Sample}, &in.SentPhoto)
}

func (a *api) addPhoto(ctx context.Context, actor models.Actor, place models.PhotoPlace, in *SentPhoto) (*photoMade, error) {
	p, again, err := a.Store.AddPhoto(ctx, actor, models.NewPhoto{Place: place, Caption: in.Caption, Content: &in.body})
	if err != nil && in.body.err != nil {
		status, says := unread(http.StatusInternalServerError, unreadBody, []error{in.body.err})
		return nil, huma.NewError(status, says)
	}
	if err != nil {
		return nil, err
	}
	out := &photoMade{http.StatusCreated, etag(p.Revision), Prefix + "/photos/" + p.ID, photoView(actor)(*p)}
	if again {
		out.Status = http.StatusOK
	}
	return out, nil
}

func (a *api) getPhoto(ctx context.Context, actor models.Actor, in *PhotoPath) (*one[Photo], error) {
	p, err := a.Store.Photo(ctx, actor, in.Photo)
	if err != nil {
		return nil, err
	}
	return &one[Photo]{etag(p.Revision), photoView(actor)(*p)}, nil
}

func (a *api) patchPhoto(ctx context.Context, actor models.Actor, in *captionInput) (*one[Photo], error) {
	revision, err := in.revision(func() (int, error) {
		p, err := a.Store.Photo(ctx, actor, in.Photo)
		if err != nil {
			return 0, err
		}
		return p.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	p, err := a.Store.CaptionPhoto(ctx, actor, in.Photo, revision, in.Body.Caption)
	if err != nil {
		return nil, err
	}
	return &one[Photo]{etag(p.Revision), photoView(actor)(*p)}, nil
}

func (a *api) deletePhoto(ctx context.Context, actor models.Actor, in *PhotoPath) (*struct{}, error) {
	return nil, a.Store.RemovePhoto(ctx, actor, in.Photo)
}

// matches tells whether an If-None-Match header names an entity tag (RFC 9110,
// section 13.1.2): the comparison is weak, and "*" is any.
func matches(header, tag string) bool {
	for _, given := range strings.Split(header, ",") {
		if given = strings.TrimSpace(given); given == "*" || strings.TrimPrefix(given, "W/") == tag {
			return true
		}
	}
	return false
}
