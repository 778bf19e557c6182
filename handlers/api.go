// Package handlers is the API: what a client may ask, one file for each
// resource. A handler reads its input, calls one store method, and shapes the
// answer; who may call it stands in policy.go, what an error becomes in
// problem.go.
package handlers

import (
	"github.com/danielgtaylor/huma/v2"
)

// Prefix is where the API lives.
const Prefix = "/api/v1"

// Config returns the description that the API starts from.
func Config(version string, secure bool, bodies *Bodies) huma.Config {
	quietErrors()
	config := huma.DefaultConfig("Tenter", version)
	config.Info.Description = "The shared production tracker of a small pattern studio: counts, samples, test calls, filming and release of each design.\n\n" +
		"In a change (PATCH) a field that is not sent stays as it is. null clears an optional field; where there has to be something, it is refused. A change that changes nothing leaves the revision as it is and is no event."
	config.OpenAPIPath = "" // see description
	config.DocsPath = ""    // the built-in page loads from elsewhere; the server has its own
	config.SchemasPath = "" // and no $schema links: they cost a tenth of a write
	config.CreateHooks = nil
	config.Formats = plainJSON(bodies)
	config.RejectUnknownQueryParameters = true
	config.Components.SecuritySchemes = map[string]*huma.SecurityScheme{
		"bearer": {Type: "http", Scheme: "bearer", BearerFormat: "JWT"},
		"cookie": {Type: "apiKey", In: "cookie", Name: AccessCookie(secure)},
	}
	return config
}

// Register mounts every resource.
func Register(h huma.API, deps Deps) {
	a := &api{huma: h, Deps: deps, spooling: make(chan struct{}, tablesAtOnce)}
	a.signIn()
	a.signIns()
	a.secondStep()
	a.me()
	a.invitations()
	a.settings()
	a.people()
	a.personData()
	a.privacy()
	a.designs()
	a.sheets()
	a.versions()
	a.signOffs()
	a.bodyTables()
	a.designCautions()
	a.releases()
	a.testCalls()
	a.applications()
	a.assignments()
	a.plans()
	a.signUps()
	a.courses()
	a.letters()
	a.letterChoices()
	a.reports()
	a.reportImports()
	a.remarks()
	a.photos()
	a.boards()
	a.history()
	a.live()
	a.samples()
	a.installments()
	a.takes()
	a.slips()
	a.designStates()
	a.shots()
	a.filmingPlans()
	a.shootSheets()
	a.calendars()
	a.work()
	a.schedules()
	a.standards()
	a.cautions()
	a.calculations()
	a.fits()
	a.webhooks()
	a.corrections()
	a.archives()
	a.tables()
	description(h)
}
