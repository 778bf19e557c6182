package server

import (
	"net/http"
	"net/url"
	"strings"
	"unicode/utf8"

	"github.com/gin-gonic/gin"
)

// legible refuses addresses and keys that are no text, which no database here
// could look up. A browser's own name is only mended: nobody chose it.
func legible(c *gin.Context) {
	query, err := url.QueryUnescape(c.Request.URL.RawQuery)
	if err != nil || !isText(query) || !isText(c.Request.URL.Path) {
		refuse(c, http.StatusBadRequest, "This address is not text in UTF-8.")
		return
	}
	if !isText(c.GetHeader(keyHeader)) {
		refuse(c, http.StatusBadRequest, "The Idempotency-Key is not text in UTF-8.")
		return
	}
	if agent := c.Request.UserAgent(); !isText(agent) {
		c.Request.Header.Set("User-Agent", strings.ToValidUTF8(agent, "?"))
	}
	c.Next()
}

func isText(s string) bool { return utf8.ValidString(s) && !strings.ContainsRune(s, 0) }

// refuse answers in place of everything that would come after.
func refuse(c *gin.Context, status int, detail string) {
	writeProblem(c, status, detail)
	c.Abort()
}
