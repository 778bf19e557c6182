package server

import (
	"strings"

	"github.com/gin-gonic/gin"

	"tenter/handlers"
	"tenter/models"
)

// authenticate puts the actor into the request's context. It refuses nobody:
// the policy table does, which also knows what is open to everybody. Where the
// database did not answer, nobody knows who asks: that is another thing than
// nobody being signed in.
func (s *Server) authenticate(c *gin.Context) {
	actor := models.Actor{RequestID: requestID(c)}
	if token := s.bearerOrCookie(c); token != "" {
		person, family, err := s.tokens.check(token)
		if err == nil {
			standing, err := s.store.SignedIn(c.Request.Context(), person, family)
			switch {
			case err == nil:
				actor.PersonID, actor.FamilyID, actor.Roles, actor.SetUpFirst = person, family, standing.Roles, standing.SetUpFirst
			case models.KindOf(err) != models.Unsigned:
				actor.Unchecked = true
				if c.Request.Context().Err() == nil {
					s.log.ErrorContext(c.Request.Context(), "sign-in could not be checked", "error", err)
				}
			}
		}
	}
	c.Request = c.Request.WithContext(models.WithActor(c.Request.Context(), actor))
	c.Next()
}

func (s *Server) bearerOrCookie(c *gin.Context) string {
	if header := c.GetHeader("Authorization"); header != "" {
		scheme, token, _ := strings.Cut(header, " ")
		if strings.EqualFold(scheme, "Bearer") {
			return strings.TrimSpace(token)
		}
		return ""
	}
	token, err := c.Cookie(handlers.AccessCookie(s.config.secure()))
	if err != nil {
		return "" // no cookie: nobody is signed in
	}
	return token
}
