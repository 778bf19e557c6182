package handlers_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

func TestGaugeIsBorneOutBySamples(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		read := func() map[string]any { return b.editor.Get("/designs/thistle-bonnet/gauge").Want(200).Map() }
		got := read()
		require.Equal(t, "untold", got["state"])
		require.Equal(t, "No sample has a washed gauge yet.", got["sentence"])
		axis := got["axes"].([]any)[0].(map[string]any)
		require.InDelta(t, 14, axis["stated_per_10_cm"], 0)
		require.Nil(t, axis["mean_per_10_cm"])

		one := b.addSample(map[string]any{"purpose": "swatch", "after": swatch(14, 11, 10, "cm")})
		require.Equal(t, "borne_out", read()["state"])
		b.addSample(map[string]any{"purpose": "fit", "after": swatch(17, 11, 10, "cm")})
		got = read()
		require.Equal(t, "not_borne_out", got["state"])
		axis = got["axes"].([]any)[0].(map[string]any)
		require.Equal(t, "not_borne_out", axis["state"])
		require.InDelta(t, 15.5, axis["mean_per_10_cm"], 1e-9)
		require.InDelta(t, 10.714286, axis["percent"], 1e-6)
		require.InDelta(t, 2, axis["samples"], 0)
		require.Equal(t, "borne_out", got["axes"].([]any)[1].(map[string]any)["state"])

		b.designer.Patch("/samples/"+one, 1, map[string]any{"retired": true}).Want(200)
		require.InDelta(t, 17, read()["axes"].([]any)[0].(map[string]any)["mean_per_10_cm"], 1e-9)
		b.designer.Get("/designs/no-such-design/gauge").Want(404)
	})
}
