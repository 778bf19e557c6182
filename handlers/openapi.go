package handlers

import (
	"encoding/json"
	"fmt"
	"net/http"
	"sync"

	"github.com/danielgtaylor/huma/v2"
)

// description mounts the API's description in the current and in the older
// form, as JSON and as YAML. Each is written once, when it is first asked for.
// What huma mounts by itself keeps that in a variable that two requests at once
// both write.
func description(h huma.API) {
	doc := h.OpenAPI()
	for _, form := range []struct {
		ending, kind string
		write        func() ([]byte, error)
	}{
		{".json", "application/openapi+json", func() ([]byte, error) { return json.Marshal(doc) }},
		{".yaml", "application/openapi+yaml", doc.YAML},
		{"-3.0.json", "application/openapi+json", doc.Downgrade},
		{"-3.0.yaml", "application/openapi+yaml", doc.DowngradeYAML},
	} {
		write := sync.OnceValues(form.write)
		h.Adapter().Handle(&huma.Operation{Method: http.MethodGet, Path: Prefix + "/openapi" + form.ending}, func(ctx huma.Context) {
			text, err := write()
			if err != nil {
				huma.WriteErr(h, ctx, http.StatusInternalServerError, "", fmt.Errorf("write the API's description: %w", err)) //nolint:errcheck // nobody listens any more
				return
			}
			ctx.SetHeader("Content-Type", form.kind)
			ctx.BodyWriter().Write(text) //nolint:errcheck // likewise
		})
	}
}
