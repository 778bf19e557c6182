package handlers

import (
	"context"
	"net/http"
	"strconv"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
)

// writePatience is how long each part of a long file may take to go out
// (chosen): a slow network is waited for, one that is gone is not.
const writePatience = 60 * time.Second

func (a *api) archives() {
	op := operation("get-studio-archive", http.MethodGet, "/studio/archive", "The whole studio as one archive", "Studio")
	op.Description = "A zip archive with manifest.json and one file of JSON lines for each table. Of passwords it holds nothing; tenter archive out, on the server's own machine, does. tenter archive in makes a studio of it. Photos whose files were lost are listed in the manifest as missing_photos; the header " + missingHeader + " says how many files are not to be found."
	op.Responses = fileResponse("application/zip", "The archive.")
	add(a, op, a.getArchive)
}

// fileResponse describes an answer that is a file.
func fileResponse(kind, says string) map[string]*huma.Response {
	return map[string]*huma.Response{"200": {Description: says, Content: map[string]*huma.MediaType{kind: {Schema: &huma.Schema{Type: "string", Format: "binary"}}}}}
}

// patient gives each part of a file its own time to go out, where the server's
// time for a whole answer would cut it short.
type patient struct {
	w       http.ResponseWriter
	control *http.ResponseController
}

func (p patient) Write(b []byte) (int, error) {
	if err := p.control.SetWriteDeadline(time.Now().Add(writePatience)); err != nil {
		return 0, err
	}
	return p.w.Write(b)
}

// missingHeader tells how many files of photos an archive could not take along;
// its manifest names them.
const missingHeader = "Tenter-Missing-Photos"

func (a *api) getArchive(ctx context.Context, actor models.Actor, _ *struct{}) (*huma.StreamResponse, error) {
	lost, err := a.Store.LostPhotos(ctx)
	if err != nil {
		return nil, err
	}
	name := "tenter-studio-" + a.Store.Now().Format("2006-01-02") + ".zip"
	return &huma.StreamResponse{Body: func(ctx huma.Context) {
		w, ok := ctx.BodyWriter().(http.ResponseWriter)
		if !ok {
			a.Log.ErrorContext(ctx.Context(), "archive without a response writer")
			return
		}
		if !a.archiving.TryLock() {
			huma.WriteErr(a.huma, ctx, http.StatusConflict, "An archive is going out at this moment; wait until it has gone, then ask for yours.") //nolint:errcheck // the connection is gone
			return
		}
		defer a.archiving.Unlock()
		ctx.SetHeader("Content-Type", "application/zip")
		ctx.SetHeader("Content-Disposition", `attachment; filename="`+name+`"`)
		ctx.SetHeader("Cache-Control", "no-store")
		ctx.SetHeader(missingHeader, strconv.Itoa(lost))
		if _, err := a.Store.WriteArchive(ctx.Context(), patient{w, http.NewResponseController(w)}, false); err != nil {
			// What went out lacks the end of a zip archive, so nobody takes it for whole.
			a.Log.ErrorContext(ctx.Context(), "the archive broke off", "error", err)
			panic(http.ErrAbortHandler)
		}
		a.Log.InfoContext(ctx.Context(), "the studio was written as an archive", "person", actor.PersonID)
	}}, nil
}
