package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/cautions"
	"tenter/server/servertest"
)

func TestCautionsRoutes(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.As("editor", models.TechEditor)
	var got cautions.CautionAdvice
	c.Get("/cautions?audience=baby&features=hat,neck_cord").Want(200).Into(&got)
	require.Len(t, got.Cautions, 3)
	require.Equal(t, "neck_cord", got.Cautions[0].ID)
	require.Equal(t, cautions.Stop, got.Cautions[0].Level)
	require.Equal(t, []cautions.Feature{"neck_cord"}, got.Cautions[0].Because)
	require.Equal(t, "infant_sleep", got.Cautions[1].ID)
	require.Equal(t, "any_child", got.Cautions[2].ID)
	require.Contains(t, got.Deferral, "ask a qualified product-safety person")

	var again cautions.CautionAdvice
	c.Get("/cautions?audience=baby&features=hat&features=neck_cord").Want(200).Into(&again)
	require.Equal(t, got, again, "a feature that is sent for itself is not lost")

	grown := c.Get("/cautions?audience=woman").Want(200).Map()
	require.Equal(t, []any{}, grown["cautions"])
	require.Equal(t, cautions.Deferral, grown["deferral"])

	require.Len(t, items(t, c.Get("/cautions/features")), len(cautions.Features()))
	require.Len(t, items(t, c.Get("/cautions/rules")), len(cautions.Rules()))
	require.NotContains(t, string(c.Get("/cautions/rules").Body), "null")

	c.Get("/cautions").Names(422, "query.audience")
	c.Get("/cautions?audience=baby&features=hat,wings").Names(422, "query.features[1]")
	c.Get("/cautions?audience=baby&age_from_months=12&age_to_months=3").Names(422, "query.age_to_months")
	s.As("tessel", models.Tester).Get("/cautions?audience=baby").Want(403)
}
