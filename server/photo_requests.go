package server

import (
	"net/http"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"tenter/handlers"
)

// longTimeout is how long a photo may be on its way over a weak network, and
// all of somebody's photos on theirs (chosen): 16 MiB at 100 kB a second.
const longTimeout = 3 * time.Minute

// takesPhoto tells whether a request's body is a photo: larger than any other,
// and known by its content when it is repeated.
func takesPhoto(r *http.Request) bool {
	return r.Method == http.MethodPost && strings.HasPrefix(r.URL.Path, handlers.Prefix) && strings.HasSuffix(r.URL.Path, "/photos")
}

func isLong(r *http.Request) bool {
	return takesPhoto(r) || strings.HasPrefix(r.URL.Path, handlers.Prefix) && strings.HasSuffix(r.URL.Path, "/photos.zip")
}

// giveTime moves the connection's deadlines, which are for other requests. A
// writer that has none is a test's.
func giveTime(c *gin.Context) {
	control, until := http.NewResponseController(c.Writer), time.Now().Add(longTimeout)
	control.SetReadDeadline(until)                //nolint:errcheck // see above
	control.SetWriteDeadline(until.Add(tellIdle)) //nolint:errcheck // see above
}
