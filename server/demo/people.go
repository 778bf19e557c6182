package demo

import (
	"context"
	"slices"
	"strings"

	"tenter/models"
)

// The studio's own people. They are called after tools and plants, like
// everybody here.
const (
	designer   = "teasel"
	techEditor = "bodkin"
	maker      = "distaff"
	filmer     = "lantern"
)

// Two testers whom a visitor can be.
const (
	freshTester = "yarrow" // has just been asked
	sentTester  = "sorrel" // has sent a report, with a slip in it
)

// signIns are the doors into the demo that are worth trying.
func signIns() []SignIn {
	return []SignIn{
		{designer, "the designer: sees and decides everything"},
		{techEditor, "the tech editor: checks counts and text, answers remarks"},
		{maker, "the maker: works the samples"},
		{filmer, "the filmer: records the installments"},
		{freshTester, "a tester who has just been asked and has everything to do"},
		{sentTester, "a tester who has sent a report, with one number to mend"},
	}
}

// staff are the studio's own people.
func staff() []models.NewPerson {
	return []models.NewPerson{
		{Handle: designer, Name: "Odile Teasel", Roles: []models.Role{models.Designer}},
		{Handle: techEditor, Name: "Bram Bodkin", Roles: []models.Role{models.TechEditor}},
		{Handle: maker, Name: "Dora Distaff", Roles: []models.Role{models.Maker}},
		{Handle: filmer, Name: "Linus Lantern", Roles: []models.Role{models.Filmer}},
	}
}

// onFile are the testers who have made something for the studio before, so
// that they have a password, with the unit in which each measures.
func onFile() (cm, in []string) {
	return strings.Fields("yarrow sorrel mallow burdock vetch comfrey betony sedge woad madder fennel larch heddle thimble skein selvedge"),
		strings.Fields("campion bracken raddle shuttle weld spindle bobbin niddy tansy awl")
}

// readsUK are the testers who read UK terms.
func readsUK(handle string) bool {
	return strings.Contains(" yarrow woad thimble awl ", " "+handle+" ")
}

func measuresInches(handle string) bool {
	_, in := onFile()
	return slices.Contains(in, handle)
}

func fullName(handle string) string {
	return strings.ToUpper(handle[:1]) + handle[1:] + " (invented)"
}

func address(handle string) *string {
	at := handle + "@testers.example"
	return &at
}

// addPeople adds everybody who can sign in, all with the one password.
func addPeople(ctx context.Context, store *models.Store, as models.Actor, hash string) error {
	people := staff()
	for i := range people {
		at := people[i].Handle + "@workroom.example"
		people[i].Email = &at
	}
	cm, in := onFile()
	for _, handle := range cm {
		people = append(people, tester(handle, "cm"))
	}
	for _, handle := range in {
		people = append(people, tester(handle, "in"))
	}
	for _, p := range people {
		p.PasswordHash = &hash
		if _, err := store.AddPerson(ctx, as, p); err != nil {
			return err
		}
	}
	return nil
}

func tester(handle, unit string) models.NewPerson {
	p := models.NewPerson{Handle: handle, Name: fullName(handle), Email: address(handle),
		Unit: unit, Roles: []models.Role{models.Tester}}
	if readsUK(handle) {
		p.Terms = "uk"
	}
	return p
}
