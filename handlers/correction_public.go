package handlers

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"html"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/google/uuid"

	"tenter/models"
	"tenter/models/atom"
)

// PublicCorrections is what everybody may read of a released design.
type PublicCorrections struct {
	Studio     string             `json:"studio"`
	Design     string             `json:"design"`
	Craft      string             `json:"craft" enum:"crochet,knit"`
	ReleasedOn models.Date        `json:"released_on"`
	Feed       string             `json:"feed" doc:"Path of the Atom feed."`
	Items      []PublicCorrection `json:"items" doc:"The latest announced first."`
}

// PublicCorrection is an announced correction.
type PublicCorrection struct {
	Number       int        `json:"number"`
	Place        string     `json:"place"`
	Was          string     `json:"was"`
	IsNow        string     `json:"is_now"`
	Sizes        []string   `json:"sizes" doc:"Names; none: all sizes."`
	Since        int        `json:"since" doc:"The first version at fault."`
	Mended       int        `json:"mended" doc:"The version in which it is mended."`
	AnnouncedAt  time.Time  `json:"announced_at"`
	WithdrawnAt  *time.Time `json:"withdrawn_at" doc:"Taken back after it was announced."`
	WithdrawnWhy string     `json:"withdrawn_why,omitempty"`
}

// SlugPath names a design by its slug alone.
type SlugPath struct {
	Slug string `path:"slug" maxLength:"80"`
}

// Unchanged are the preconditions of a reading (RFC 9110, section 13.1).
type Unchanged struct {
	IfNoneMatch     string `header:"If-None-Match" maxLength:"400"`
	IfModifiedSince string `header:"If-Modified-Since" maxLength:"60"`
}

// holds tells whether the reader has what is there. An entity tag, where one is
// sent, decides alone (section 13.1.3).
func (u Unchanged) holds(tag string, changed time.Time) bool {
	if u.IfNoneMatch != "" {
		for _, t := range strings.Split(u.IfNoneMatch, ",") {
			if t = strings.TrimPrefix(strings.TrimSpace(t), "W/"); t == tag || t == "*" {
				return true
			}
		}
		return false
	}
	since, err := http.ParseTime(u.IfModifiedSince)
	return err == nil && !changed.Truncate(time.Second).After(since)
}

type publicInput struct {
	SlugPath
}

type feedInput struct {
	SlugPath
	Unchanged
	Origin
}

type publicAnswer struct {
	CacheControl string `header:"Cache-Control"`
	LastModified string `header:"Last-Modified"`
	Body         PublicCorrections
}

type feedAnswer struct {
	Status       int
	ContentType  string `header:"Content-Type"`
	CacheControl string `header:"Cache-Control"`
	ETag         string `header:"ETag"`
	LastModified string `header:"Last-Modified"`
	Body         []byte
}

// publicCache lets programs that follow the feed keep a copy for a while
// (chosen). The page is asked for each time: whoever has just announced or taken
// back a correction looks there next.
const (
	publicCache = "public, max-age=300"
	pageCache   = "no-cache"
)

func publicPage(slug string) string { return "/corrections/" + url.PathEscape(slug) }

func publicFeed(slug string) string {
	return Prefix + "/public/designs/" + url.PathEscape(slug) + "/corrections.atom"
}

func (a *api) publicCorrections() {
	add(a, operation("read-corrections", http.MethodGet, "/public/designs/{slug}/corrections", "The announced corrections of a released design", "Corrections"), a.getPublicCorrections)
	op := operation("follow-corrections", http.MethodGet, "/public/designs/{slug}/corrections.atom", "The announced corrections of a released design as an Atom feed (RFC 4287)", "Corrections")
	op.Responses = map[string]*huma.Response{"200": {Description: "The feed.", Content: map[string]*huma.MediaType{"application/atom+xml": {Schema: &huma.Schema{Type: "string"}}}},
		"304": {Description: "It has not changed."}}
	add(a, op, a.getCorrectionFeed)
}

func (a *api) getPublicCorrections(ctx context.Context, _ models.Actor, in *publicInput) (*publicAnswer, error) {
	p, err := a.Store.PublicCorrections(ctx, in.Slug)
	if err != nil {
		return nil, err
	}
	out := PublicCorrections{Studio: p.Studio, Design: p.Design.Name, Craft: p.Design.Craft, ReleasedOn: p.ReleasedOn, Feed: publicFeed(p.Design.Slug), Items: []PublicCorrection{}}
	for _, c := range newestFirst(p) {
		out.Items = append(out.Items, publicView(p, c))
	}
	return &publicAnswer{pageCache, httpTime(p.Changed), out}, nil
}

func httpTime(t time.Time) string { return t.UTC().Format(http.TimeFormat) }

// newestFirst puts what changed last at the top.
func newestFirst(p *models.PublicCorrections) []models.Correction {
	list := slices.Clone(p.List)
	slices.SortStableFunc(list, func(a, b models.Correction) int { return b.PublishedChange().Compare(a.PublishedChange()) })
	return list
}

func publicView(p *models.PublicCorrections, c models.Correction) PublicCorrection {
	out := PublicCorrection{Number: c.Number, Place: c.Place, Was: c.Was, IsNow: c.IsNow, Sizes: []string{}, Since: c.SinceNumber, Mended: *c.MendedNumber,
		AnnouncedAt: *c.AnnouncedAt, WithdrawnAt: c.WithdrawnAt, WithdrawnWhy: c.WithdrawnWhy}
	for _, z := range p.Sizes {
		if slices.Contains(c.SizeIDs, z.ID) {
			out.Sizes = append(out.Sizes, z.Name)
		}
	}
	return out
}

func (a *api) getCorrectionFeed(ctx context.Context, _ models.Actor, in *feedInput) (*feedAnswer, error) {
	p, err := a.Store.PublicCorrections(ctx, in.Slug)
	if err != nil {
		return nil, err
	}
	base := a.BaseURL
	if base == "" {
		base = in.Origin.base
	}
	feed := atom.Feed{ID: feedID(p.Design.ID), Title: "Corrections to " + p.Design.Name, Subtitle: "What has changed in the text since it went out.",
		Author: orName(p.Studio), Updated: p.Updated, Self: base + publicFeed(p.Design.Slug), Page: base + publicPage(p.Design.Slug)}
	for _, c := range newestFirst(p) {
		feed.Entries = append(feed.Entries, feedEntry(publicView(p, c), c, feed.Page))
	}
	body, err := atom.Write(feed)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(body)
	out := &feedAnswer{Status: http.StatusOK, ContentType: "application/atom+xml; charset=utf-8", CacheControl: publicCache,
		ETag: `"` + hex.EncodeToString(sum[:12]) + `"`, LastModified: httpTime(p.Changed), Body: body}
	if in.holds(out.ETag, p.Changed) {
		out.Status, out.ContentType, out.Body = http.StatusNotModified, "", nil
	}
	return out, nil
}

// orName gives a studio that has not told its name one: an author needs it.
func orName(name string) string {
	if strings.TrimSpace(name) == "" {
		return "The studio"
	}
	return name
}

// feedID is the same for a design whatever its name, slug and address become
// (RFC 4287, section 4.2.6); a UUID made of the design's own (RFC 9562, 5.5).
func feedID(designID string) string {
	return "urn:uuid:" + uuid.NewSHA1(uuid.NameSpaceURL, []byte("corrections of "+designID)).String()
}

func feedEntry(v PublicCorrection, c models.Correction, page string) atom.Entry {
	out := atom.Entry{ID: "urn:uuid:" + c.ID, Title: v.Place, Page: fmt.Sprintf("%s#correction-%d", page, v.Number), Published: v.AnnouncedAt, Updated: c.PublishedChange()}
	paragraph := func(label, text string) string {
		return "<p><b>" + label + "</b> " + strings.ReplaceAll(html.EscapeString(text), "\n", "<br>") + "</p>\n"
	}
	var b strings.Builder
	if v.WithdrawnAt != nil {
		out.Title = "Taken back: " + v.Place
		b.WriteString(paragraph("Taken back.", v.WithdrawnWhy))
	}
	sizes := "all"
	if len(v.Sizes) > 0 {
		sizes = strings.Join(v.Sizes, ", ")
	}
	b.WriteString(paragraph("It said:", v.Was))
	b.WriteString(paragraph("It now says:", v.IsNow))
	b.WriteString(paragraph("Sizes:", sizes))
	b.WriteString(paragraph("Versions:", fmt.Sprintf("wrong since version %d, right in version %d", v.Since, v.Mended)))
	out.HTML = b.String()
	return out
}
