package handlers_test

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"image/jpeg"
	"io"
	"io/fs"
	"net/http"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/handlers"
	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/servertest"
)

func addPhoto(c *servertest.Client, path string, data []byte) *servertest.Answer {
	return c.Do("POST", path, data, http.Header{"Content-Type": {"image/jpeg"}})
}

// seen lists the captions that somebody is shown.
func seen(c *servertest.Client, path string) []string {
	var page handlers.Photos
	c.Get(path).Want(200).Into(&page)
	out := []string{}
	for _, p := range page.Items {
		out = append(out, p.Caption)
	}
	return out
}

func TestPhotoOfATestersPiece(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester, other, maker := r.tester("bramble"), r.tester("mossgrave"), s.As("pim", models.Maker)
		assignment := r.assign(tester, "1")
		path := "/assignments/" + assignment + "/photos"
		data := modelstest.PhoneJPEG(t, 400, 300, 6)

		a := addPhoto(tester, path+"?caption=The+left+cuff", data).Want(201)
		var p handlers.Photo
		a.Into(&p)
		require.Equal(t, "/api/v1/photos/"+p.ID, a.Header.Get("Location"))
		require.Equal(t, [2]int{300, 400}, [2]int{p.Pictures[0].Width, p.Pictures[0].Height}, "upright")
		require.True(t, p.Yours)
		again := addPhoto(tester, path+"?caption=Another", data).Want(200)
		require.Equal(t, p.ID, again.ID(), "the same file is the same photo")
		require.Equal(t, []string{"The left cuff"}, seen(tester, path))

		// Until there is a report, it is for the tester's eyes.
		require.Empty(t, seen(r.c, path))
		for _, c := range []*servertest.Client{r.c, maker, other} {
			c.Get("/photos/" + p.ID).Want(404)
			c.Get("/photos/" + p.ID + "/thumb").Want(404)
			c.Do("DELETE", "/photos/"+p.ID, nil, nil).Want(404)
		}
		require.NotContains(t, string(r.c.Get("/designs/"+r.design+"/history?limit=500").Want(200).Body), "left cuff")
		require.NotContains(t, string(r.c.Get("/designs/"+r.design+"/tables/photos").Want(200).Body), p.ID)
		r.report(tester, assignment, false)
		require.Contains(t, string(maker.Get("/designs/"+r.design+"/tables/photos").Want(200).Body), "bramble,bramble,")
		require.Equal(t, []string{"The left cuff"}, seen(r.c, path))

		for _, c := range []*servertest.Client{tester, r.c, maker} {
			for _, picture := range p.Pictures {
				got := c.Get(strings.TrimPrefix(picture.Href, handlers.Prefix)).Want(200)
				require.Equal(t, "image/jpeg", got.Header.Get("Content-Type"))
				require.Equal(t, "nosniff", got.Header.Get("X-Content-Type-Options"))
				require.Equal(t, "private, no-cache", got.Header.Get("Cache-Control"))
				require.NotContains(t, string(got.Body), modelstest.ExifMake)
				require.NotContains(t, string(got.Body), "Exif")
				img, err := jpeg.Decode(bytes.NewReader(got.Body))
				require.NoError(t, err)
				require.Equal(t, picture.Width, img.Bounds().Dx())
				tag := http.Header{"If-None-Match": {got.Header.Get("ETag")}}
				require.Empty(t, c.Do("GET", strings.TrimPrefix(picture.Href, handlers.Prefix), nil, tag).Want(304).Body)
			}
		}
		other.Get("/photos/" + p.ID + "/thumb").Want(404)
		s.Nobody().Get("/photos/" + p.ID + "/thumb").Want(401)
		other.Get(path).Want(404)
		addPhoto(other, path, data).Want(404)
		addPhoto(r.c, path, data).Want(403)
		r.c.Get("/photos/" + p.ID + "/huge").Want(422)
	})
}

func TestCaptionAndRemoval(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester, maker := r.tester("bramble"), s.As("pim", models.Maker)
		assignment := r.assign(tester, "1")
		path := "/assignments/" + assignment + "/photos"
		first, second := addPhoto(tester, path, modelstest.JPEG(t, modelstest.Quarters(40, 30))).Want(201).ID(), addPhoto(tester, path, modelstest.JPEG(t, modelstest.Quarters(41, 30))).Want(201).ID()

		tester.Patch("/photos/"+first, 1, map[string]any{"caption": strings.Repeat("x", 301)}).Names(422, "body.caption")
		tester.Do("PATCH", "/photos/"+first, map[string]any{"caption": "A cuff"}, nil).Want(428)
		require.Equal(t, `"2"`, tester.Patch("/photos/"+first, 1, map[string]any{"caption": "A cuff"}).Want(200).Header.Get("ETag"))
		tester.Patch("/photos/"+first, 1, map[string]any{"caption": "lost"}).Want(412)
		require.Equal(t, []string{"A cuff", ""}, seen(tester, path))

		report := tester.Post("/assignments/"+assignment+"/reports", map[string]any{"swatch": map[string]any{"stitches": 14, "rows": 11, "span": 10, "unit": "cm"}}).Want(201).ID()
		maker.Patch("/photos/"+first, 2, map[string]any{"caption": "mine"}).Want(403)
		maker.Do("DELETE", "/photos/"+first, nil, nil).Want(403)

		rows, err := s.Store.PhotoFileRows(context.Background())
		require.NoError(t, err)
		require.Len(t, rows, 6)
		tester.Do("DELETE", "/photos/"+first, nil, nil).Want(204)
		tester.Get("/photos/" + first + "/large").Want(404)
		for _, f := range rows {
			_, err := s.Store.PhotoContent(context.Background(), f)
			if f.PhotoID == first {
				require.ErrorIs(t, err, fs.ErrNotExist, "the file is gone with it")
				continue
			}
			require.NoError(t, err)
		}
		r.c.Post("/reports/"+report+"/approve", map[string]any{"approved": true}).Want(200)
		tester.Do("DELETE", "/photos/"+second, nil, nil).Want(409)
		r.c.Do("DELETE", "/photos/"+second, nil, nil).Want(204)
		require.Empty(t, seen(tester, path))
		again := addPhoto(tester, path, modelstest.JPEG(t, modelstest.Quarters(41, 30))).Want(201).ID()
		require.NotEqual(t, second, again, "what was removed can come again")
		sound(t, s)
	})
}

// sound asserts that rows and files fit together.
func sound(t *testing.T, s *servertest.Studio) {
	t.Helper()
	faults, err := s.Store.CheckPhotos(context.Background())
	require.NoError(t, err)
	require.Empty(t, faults)
	faults, err = s.Store.Check(context.Background())
	require.NoError(t, err)
	require.Empty(t, faults)
}

func TestPhotoOfASample(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		sample := b.addSample(nil)
		path := "/samples/" + sample + "/photos"
		tester := s.As("bramble", models.Tester)
		id := addPhoto(b.maker, path+"?caption=Ties", modelstest.JPEG(t, modelstest.Quarters(400, 300))).Want(201).ID()
		addPhoto(b.editor, path, nil).Want(403)
		addPhoto(tester, path, nil).Want(403)
		tester.Get(path).Want(403)
		tester.Get("/photos/" + id).Want(404)
		tester.Get("/photos/" + id + "/large").Want(404)
		require.Equal(t, []string{"Ties"}, seen(b.editor, path))
		var got handlers.Sample
		b.editor.Get("/samples/" + sample).Want(200).Into(&got)
		require.Len(t, got.Photos, 1)
		require.Equal(t, "Ties", got.Photos[0].Caption)
		require.False(t, got.Photos[0].Yours)
		b.maker.Do("DELETE", "/photos/"+id, nil, nil).Want(204)
		addPhoto(b.maker, "/samples/018f0000-0000-7000-8000-000000000000/photos", nil).Want(404)
		sound(t, s)
	})
}

func TestWhatIsNoPhotoChangesNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("bramble")
		path := "/assignments/" + r.assign(tester, "1") + "/photos"
		before := everyRow(t, s.Store)
		whole := modelstest.PhoneJPEG(t, 400, 300, 1)
		for name, data := range map[string][]byte{"empty": {}, "text": []byte("no picture"), "cut": whole[:len(whole)/2]} {
			a := addPhoto(tester, path, data)
			require.Equal(t, 422, a.Status, name)
			a.Names(422, "body.photo")
		}
		addPhoto(tester, path, []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00")).Names(422, "body.photo")
		addPhoto(tester, path+"?caption="+strings.Repeat("x", 301), whole).Want(422)
		large := addPhoto(tester, path, append(whole, make([]byte, models.MostPhotoBytes)...)).Want(413)
		require.Contains(t, string(large.Body), "16 MiB")
		require.Equal(t, before, everyRow(t, s.Store))
		sound(t, s)
	})
}

// TestLargePhotoOfUnknownLength: without a length the bound holds all the same.
func TestLargePhotoOfUnknownLength(t *testing.T) {
	s := servertest.OnSQLite(t)
	r := newRound(t, s)
	tester := r.tester("bramble")
	body := io.LimitReader(neverEnding('x'), models.MostPhotoBytes+2)
	req, err := http.NewRequest("POST", s.URL+handlers.Prefix+"/assignments/"+r.assign(tester, "1")+"/photos", struct{ io.Reader }{body})
	require.NoError(t, err)
	req.Header.Set("Authorization", "Bearer "+tester.Token())
	res, err := http.DefaultClient.Do(req)
	require.NoError(t, err)
	defer res.Body.Close()
	require.Equal(t, 413, res.StatusCode)
}

type neverEnding byte

func (n neverEnding) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = byte(n)
	}
	return len(p), nil
}

func TestTwelvePhotosAndNoMore(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("bramble")
		path := "/assignments/" + r.assign(tester, "1") + "/photos"
		var page handlers.Photos
		tester.Get(path).Want(200).Into(&page)
		require.Equal(t, models.MostPhotosOfReport, page.Limits.Most)
		picture := func(i int) []byte { return modelstest.JPEG(t, modelstest.Quarters(20+i, 10)) }
		for i := range page.Limits.Most {
			addPhoto(tester, path, picture(i)).Want(201)
		}
		addPhoto(tester, path, picture(99)).Want(409)
		addPhoto(tester, path, picture(3)).Want(200) // it arrived, and its answer was lost
		sound(t, s)
	})
}

// TestTheSameFileAtTheSameMoment sends one file many times at once.
func TestTheSameFileAtTheSameMoment(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("bramble")
		path := "/assignments/" + r.assign(tester, "1") + "/photos"
		data := modelstest.PhoneJPEG(t, 300, 200, 1)
		answers := make([]*servertest.Answer, 6)
		var sending sync.WaitGroup
		for i := range answers {
			sending.Go(func() { answers[i] = addPhoto(tester, path, data) })
		}
		sending.Wait()
		made, ids := 0, map[string]bool{}
		for _, a := range answers {
			require.Contains(t, []int{200, 201}, a.Status, "%s", a.Body)
			ids[a.ID()] = true
			if a.Status == 201 {
				made++
			}
		}
		require.Equal(t, 1, made)
		require.Len(t, ids, 1)
		require.Len(t, seen(tester, path), 1)
		sound(t, s)
	})
}

func TestPhotosGoWithTheirPerson(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		w := newWholeTester(t, s)
		rows, err := s.Store.PhotoFileRows(context.Background())
		require.NoError(t, err)
		require.Len(t, rows, 3)

		a := w.self.Get("/me/photos.zip").Want(200)
		require.Equal(t, "application/zip", a.Header.Get("Content-Type"))
		z, err := zip.NewReader(bytes.NewReader(a.Body), int64(len(a.Body)))
		require.NoError(t, err)
		require.Len(t, z.File, 1)
		require.Equal(t, w.photo+".jpg", z.File[0].Name)
		file, err := z.File[0].Open()
		require.NoError(t, err)
		_, err = jpeg.Decode(file)
		require.NoError(t, err)
		require.Equal(t, a.Body, w.designer.Get("/people/"+w.person.ID+"/photos.zip").Want(200).Body)
		s.As("another", models.Tester).Get("/people/" + w.person.ID + "/photos.zip").Want(403)

		w.self.Post("/me/forget", map[string]any{"confirm": itsHandle, "password": itsPassword}).Want(204)
		for _, f := range rows {
			_, err := s.Store.PhotoContent(context.Background(), f)
			require.ErrorIs(t, err, fs.ErrNotExist)
		}
		w.designer.Get("/photos/" + w.photo).Want(404)
		sound(t, s)
	})
}

// TestPhotoWithoutRoom: nothing half written stays when the database is full.
func TestPhotoWithoutRoom(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		tester := r.tester("bramble")
		path := "/assignments/" + r.assign(tester, "1") + "/photos"
		empty := fill(t, s, tester.Person)
		before := everyRow(t, s.Store)
		for i := range 8 {
			if a := addPhoto(tester, path+fmt.Sprintf("?caption=%d%s", i, strings.Repeat("x", 290)), modelstest.JPEG(t, modelstest.Quarters(300+i, 200))); a.Status == 201 {
				before["photos"]++ // the last pages had room for it
				before["photo_files"] += 3
				before["events"]++
			} else {
				a.Want(507)
			}
		}
		require.Equal(t, before, everyRow(t, s.Store))
		empty()
		addPhoto(tester, path, modelstest.JPEG(t, modelstest.Quarters(99, 99))).Want(201)
		sound(t, s)
	})
}
