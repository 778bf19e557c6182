package server_test

import "github.com/danielgtaylor/huma/v2"

// operations are those of one path, by method.
func operations(item *huma.PathItem) map[string]*huma.Operation {
	out := map[string]*huma.Operation{}
	for method, op := range map[string]*huma.Operation{"GET": item.Get, "POST": item.Post, "PUT": item.Put, "PATCH": item.Patch, "DELETE": item.Delete} {
		if op != nil {
			out[method] = op
		}
	}
	return out
}
