package server

import (
	"context"
	"time"

	"tenter/models"
)

// betweenForgetting is how often the server looks for testers who are to be
// forgotten (chosen).
const betweenForgetting = 12 * time.Hour

// sweepPhotos removes files that no photo has any more, until ctx ends.
func (s *Server) sweepPhotos(ctx context.Context) {
	for {
		n, err := s.store.SweepPhotos(ctx)
		if err != nil && ctx.Err() == nil {
			s.log.ErrorContext(ctx, "the store of photos was not swept", "error", err)
		}
		if n > 0 {
			s.log.InfoContext(ctx, "files that no photo has were removed", "files", n)
		}
		if !pause(ctx, betweenForgetting) {
			return
		}
	}
}

// forgetIdle forgets testers and the words of letters as the studio's settings
// say, until ctx ends.
func (s *Server) forgetIdle(ctx context.Context) {
	for {
		n, err := s.store.ForgetIdle(ctx, models.System("retention"))
		if err != nil && ctx.Err() == nil {
			s.log.ErrorContext(ctx, "testers were not forgotten", "error", err)
		}
		if n > 0 {
			s.log.InfoContext(ctx, "testers who have not taken part were forgotten", "people", n)
		}
		n, err = s.store.EraseOldLetters(ctx)
		if err != nil && ctx.Err() == nil {
			s.log.ErrorContext(ctx, "old letters were not erased", "error", err)
		}
		if n > 0 {
			s.log.InfoContext(ctx, "the words of old letters were erased", "letters", n)
		}
		if !pause(ctx, betweenForgetting) {
			return
		}
	}
}

// dropOldSignIns forgets sign-ins that have been over for long, until ctx ends.
func (s *Server) dropOldSignIns(ctx context.Context) {
	for {
		n, err := s.store.DropOldSignIns(ctx)
		if err != nil && ctx.Err() == nil {
			s.log.ErrorContext(ctx, "old sign-ins were not forgotten", "error", err)
		}
		if n > 0 {
			s.log.InfoContext(ctx, "sign-ins that were over long ago were forgotten", "sign-ins", n)
		}
		if !pause(ctx, betweenForgetting) {
			return
		}
	}
}
