package server

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"

	"github.com/gin-gonic/gin"

	"tenter/frontend"
)

// asset is one file of the frontend with its entity tag, made at start.
type asset struct {
	body []byte
	kind string
	etag string
}

const shellFile = "index.html"

// pages mounts the frontend's files. Every other address that is not the API's
// is a screen of the frontend, which index.html draws.
func (s *Server) pages() error {
	assets := map[string]asset{}
	err := fs.WalkDir(frontend.FS, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := fs.ReadFile(frontend.FS, name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(body)
		assets[name] = asset{body, kindOf(name), `"` + hex.EncodeToString(sum[:8]) + `"`}
		return nil
	})
	if err != nil {
		return fmt.Errorf("frontend files: %w", err)
	}
	shell, ok := assets[shellFile]
	if !ok {
		return fmt.Errorf("frontend files: %s is missing", shellFile)
	}
	s.shell = shell
	for name, a := range assets {
		if name != shellFile {
			s.engine.GET("/"+name, serve(a))
			s.engine.HEAD("/"+name, serve(a))
		}
	}
	return nil
}

func kindOf(name string) string {
	switch path.Ext(name) {
	case ".js", ".mjs":
		return "text/javascript; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	case ".html":
		return "text/html; charset=utf-8"
	}
	if kind := mime.TypeByExtension(path.Ext(name)); kind != "" {
		return kind
	}
	return "application/octet-stream"
}

// serve answers with the file, or with "not modified" when the browser has it.
// The browser asks each time: a new release is seen at once.
func serve(a asset) gin.HandlerFunc {
	return func(c *gin.Context) {
		c.Header("ETag", a.etag)
		c.Header("Cache-Control", "no-cache")
		if c.GetHeader("If-None-Match") == a.etag {
			c.Status(http.StatusNotModified)
			return
		}
		c.Data(http.StatusOK, a.kind, a.body)
	}
}

// page draws a screen of the frontend, or says that there is no such file.
func (s *Server) page(c *gin.Context) {
	wantsPage := c.Request.Method == http.MethodGet || c.Request.Method == http.MethodHead
	if !wantsPage || strings.Contains(path.Base(c.Request.URL.Path), ".") {
		writeProblem(c, http.StatusNotFound, "There is nothing at this address.")
		return
	}
	serve(s.shell)(c)
}
