package server

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"net/http"

	"github.com/gin-gonic/gin"

	"tenter/models"
)

const (
	keyHeader  = "Idempotency-Key"
	longestKey = 200
	replayed   = "Idempotency-Replayed"
)

// idempotent answers a repeated creation from the first one. The key itself is
// written in the transaction of the change (models.IdempotencyKey), so a crash
// between the change and the answer can lose the answer but never make a
// second change.
func (s *Server) idempotent(c *gin.Context) {
	key := c.GetHeader(keyHeader)
	actor, signed := models.ActorFrom(c.Request.Context())
	if c.Request.Method != http.MethodPost || key == "" || !signed || takesPhoto(c.Request) {
		c.Next()
		return
	}
	if len(key) > longestKey {
		writeProblem(c, http.StatusUnprocessableEntity, "The Idempotency-Key is too long; use at most 200 characters.")
		c.Abort()
		return
	}
	body, err := io.ReadAll(c.Request.Body)
	if err != nil {
		writeProblem(c, http.StatusRequestEntityTooLarge, "The request could not be read whole, or is larger than 2 MiB.")
		c.Abort()
		return
	}
	c.Request.Body = io.NopCloser(bytes.NewReader(body))
	row := models.IdempotencyKey{PersonID: actor.PersonID, Key: key, RequestHash: requestHash(c.Request, body)}
	kept, err := s.store.FindKey(c.Request.Context(), actor.PersonID, key)
	if err != nil {
		s.log.ErrorContext(c.Request.Context(), "idempotency key could not be read", "error", err)
		writeProblem(c, http.StatusServiceUnavailable, "This could not be checked just now; try again.")
		c.Abort()
		return
	}
	if kept != nil {
		replay(c, kept, row.RequestHash)
		c.Abort()
		return
	}
	s.carryOut(c, actor, row)
}

func (s *Server) carryOut(c *gin.Context, actor models.Actor, row models.IdempotencyKey) {
	actor.Key = &row
	c.Request = c.Request.WithContext(models.WithActor(c.Request.Context(), actor))
	answer := &recorder{ResponseWriter: c.Writer}
	c.Writer = answer
	c.Next()
	if answer.Status() >= http.StatusMultipleChoices || !row.Claimed() {
		return // nothing was changed, so the key is still free
	}
	if answer.Header().Get("Cache-Control") == "no-store" {
		return // it holds a secret, of which the database keeps no more than a hash
	}
	headers, err := json.Marshal(pick(answer.Header()))
	if err == nil {
		row.Status, row.Headers, row.Body = answer.Status(), string(headers), answer.body.Bytes()
		err = s.store.KeepAnswer(c.Request.Context(), row)
	}
	if err != nil {
		s.log.ErrorContext(c.Request.Context(), "answer under idempotency key was not kept", "error", err)
	}
}

func requestHash(r *http.Request, body []byte) string {
	h := sha256.New()
	io.WriteString(h, r.Method+" "+r.URL.RequestURI()+"\n") //nolint:errcheck // a hash never fails
	h.Write(body)
	return hex.EncodeToString(h.Sum(nil))
}

func replay(c *gin.Context, kept *models.IdempotencyKey, hash string) {
	switch {
	case kept.RequestHash != hash:
		writeProblem(c, http.StatusUnprocessableEntity, "This Idempotency-Key was used for another request; give each request its own.")
	case kept.Status == 0:
		writeProblem(c, http.StatusConflict, "This request was carried out, but its answer was lost on the way or is not kept. Read what there is instead of sending it again.")
	default:
		var headers map[string]string
		if err := json.Unmarshal([]byte(kept.Headers), &headers); err == nil {
			for name, value := range headers {
				c.Header(name, value)
			}
		}
		c.Header(replayed, "true")
		c.Data(kept.Status, headers["Content-Type"], kept.Body)
	}
}

func pick(h http.Header) map[string]string {
	out := map[string]string{}
	for _, name := range []string{"Location", "ETag", "Content-Type"} {
		if v := h.Get(name); v != "" {
			out[name] = v
		}
	}
	return out
}

// recorder keeps a copy of the answer while it goes out.
type recorder struct {
	gin.ResponseWriter
	body bytes.Buffer
}

func (r *recorder) Write(b []byte) (int, error) {
	r.body.Write(b)
	return r.ResponseWriter.Write(b)
}

func (r *recorder) WriteString(s string) (int, error) { return r.Write([]byte(s)) }
