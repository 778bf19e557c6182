// Package frontend holds the pages: plain ES modules, custom elements and
// style sheets, as they are served. There is no build step; what is in this
// folder is what the browser gets.
//
// The pages are a client of the API under /api/v1 and have no private way in.
package frontend

import "embed"

// FS is everything a browser may ask for. Its paths are the addresses:
// app/main.js is served as /app/main.js, and index.html answers every address
// that is a screen. Tests and type declarations stay out of it.
//
//go:embed index.html icon.svg app/*.js parts/*.js styles/*.css
var FS embed.FS
