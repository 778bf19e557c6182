package server_test

import (
	"fmt"
	"strings"
	"testing"

	"tenter/models"
	"tenter/server/browsertest"
	"tenter/server/servertest"
)

// TestTheMainJobInTheBrowser works one design from its first page to its
// testers' finished measurements and its unrecorded installments, as the
// designer on a laptop and a tester on a phone do.
func TestTheMainJobInTheBrowser(t *testing.T) {
	s := servertest.OnSQLite(t)
	p := signedIn(t, s, "odile", 1280, 900, models.Designer)
	p.At("/")
	sheet := s.ReadPoints()

	// 1: the design, its sizes, its counts, its points of measure.
	p.Press("New design")
	p.At("/designs/new")
	p.Fill("Name", "Saltmarsh pullover")
	p.Fill("Craft", "crochet")
	p.Fill("For", "unisex")
	p.Fill("Written in", "us")
	p.Fill("Lengths in", "cm")
	p.Fill("Stitches", "14")
	p.Fill("Rows", "11")
	p.Fill("Over", "10")
	p.Fill("Yarn", "a sturdy worsted, 200 m in 100 g")
	p.Fill("Hook or needle", "crochet hook")
	p.Fill("Its size in mm", "5.5")
	p.Fill("Sizes in each bracket", "1,3,3,2")
	p.Accessible()
	p.Press("Add the design")
	p.At("/d/saltmarsh-pullover/setup")
	sizes(p, sheet)
	counts(p)
	points(p, sheet)
	installments(p)
	sample(p)
	openCall(p)
	link := assignAndInvite(p, "agrimony")
	p.Press("Board")
	p.At("/d/saltmarsh-pullover")
	p.See("0 reported")

	phone := browsertest.Open(t, s.URL, 360, 740)
	testerReports(phone, link)

	p.See("1 reported") // the board has heard of it by itself
	phone.Press("Sign out")
	p.Accessible()
	p.Dark(true)
	p.Accessible()
	p.Dark(false)
	p.NoErrors()
	phone.NoErrors()
}

// installments plans two parts and records a take with a slip of the first.
func installments(p *browsertest.Page) {
	p.Press("Filming")
	p.At("/d/saltmarsh-pullover/filming")
	for i, title := range []string{"Hem and body", "Sleeves"} {
		p.Press("Add an installment")
		p.Fill("Title", title)
		p.Fill("What it covers", "from the foundation on")
		p.Fill("Airs on", fmt.Sprintf("2027-03-%02d", 1+7*i))
		p.Press("Add")
		p.See(title)
	}
	p.Press("Note a take of Hem and body")
	p.Fill("Recorded on", "2027-02-07")
	p.Press("Note it")
	p.See("Take 1")
	p.Press("Note a slip: take 1 of Hem and body")
	p.Fill("Where in the take", "12:04")
	p.Fill("What was said or shown", "says 120")
	p.Fill("What it should be", "122")
	p.Press("Note it")
	p.See("12:04")
	p.Press("Accept: take 1 of Hem and body")
	p.See("accepted")
	p.Accessible()
}

// sample adds a piece that is made in the studio, with its gauge after washing.
func sample(p *browsertest.Page) {
	p.Press("Samples")
	p.At("/d/saltmarsh-pullover/samples")
	p.Press("Add a sample")
	p.Fill("Called", "the grey one")
	p.FillNth("Stitches", 1, "14")
	p.FillNth("Rows", 1, "11")
	p.FillNth("Over", 1, "10")
	p.Press("Add")
	p.See("the grey one")
	p.Accessible()
}

// openCall opens a test call and brings in the applicants from a file.
func openCall(p *browsertest.Page) {
	p.Press("Testing")
	p.At("/d/saltmarsh-pullover/testing")
	p.Press("Open a test call")
	p.Fill("Reports due", "2027-03-12")
	p.Accessible()
	p.Press("Open the call")
	p.See("Applicants")
	p.Press("Import applicants")
	p.Upload("From a file", "applicants.csv", servertest.Applicants)
	p.See("Nothing is written yet.")
	p.Accessible()
	p.Press("Import 40")
	p.See("agrimony")
	p.Accessible()
}

// assignAndInvite gives somebody the size that they would like best and
// returns the path of their link.
func assignAndInvite(p *browsertest.Page, handle string) string {
	p.Press("Assign this size to " + handle)
	p.Press("Invitation link for " + handle)
	p.See("Copy the link")
	p.Accessible()
	link := browsertest.Eval[string](p, `document.querySelector('dialog input').value`)
	p.Press("Close")
	return link[strings.Index(link, "/join"):]
}

// testerReports opens the link on a phone, chooses a password, takes the size
// on, measures, is asked about a slip, mends it and sends; then corrects it.
func testerReports(p *browsertest.Page, link string) {
	p.Goto(link)
	p.Fill("Choose a password", "four plain words here")
	p.Accessible()
	p.NoSidewaysScrolling()
	p.Press("Join")
	p.At("/my")
	p.NoSidewaysScrolling()
	p.Accessible()
	p.Press("Saltmarsh pullover")
	p.Press("Yes, I take it on")
	p.See("body")
	p.Accessible()
	p.NoSidewaysScrolling()
	p.Fill("Stitches", "13")
	p.Fill("Rows", "11")
	p.Fill("Over", "10")
	p.Fill("bust", "43")
	p.Fill("hem", "88")
	p.See("Make it 86 cm")
	p.Accessible()
	p.Fill("bust", "94")
	p.Fill("Hours of work", "21,5")
	p.Press("Send my report")
	p.See("Number 1 was sent")
	p.Press("Correct my report")
	p.Fill("bust", "93.5")
	p.Press("Send the correction")
	p.See("Number 2 was sent")
	p.NoSidewaysScrolling()
	p.Accessible()
}

// sizes pastes names and bust measurements from a spreadsheet.
func sizes(p *browsertest.Page, sheet servertest.PointSheet) {
	var block []string
	for _, z := range sheet.Sizes {
		block = append(block, fmt.Sprintf("%s\t%g", z.Name, z.BustCM))
	}
	p.Press("Add a size")
	p.Fill("Body measurement 1, its name", "bust")
	p.Focus(`[data-at="sizes[0].name"]`)
	p.Paste(strings.Join(block, "\n"))
	p.Press("Save the sizes")
	p.See("The sizes are saved.")
}

// counts pastes the count sheet as pattern lines, and adds a rule.
func counts(p *browsertest.Page) {
	p.Press("Counts")
	p.At("/d/saltmarsh-pullover/counts")
	p.Press("Paste pattern lines")
	p.Fill("Part of the pattern", servertest.CountLines)
	p.Press("Find the counts")
	p.See("11 lists found")
	p.Accessible()
	p.Press("Put the kept ones into the sheet")
	p.Holds("Name of count 6", "upper_arm")
	p.Press("Add a rule")
	p.Fill("Name, rule 1", "panels meet")
	p.Fill("Statement, ", "left_front + back + right_front == body + 2")
	p.Press("Save the sheet")
	p.See("Saved.")
	p.Accessible()
}

// points pastes names and expressions, then what is intended for each size.
func points(p *browsertest.Page, sheet servertest.PointSheet) {
	p.Press("Set up")
	p.At("/d/saltmarsh-pullover/setup")
	var block []string
	for _, q := range sheet.Points {
		block = append(block, fmt.Sprintf("%s\t%s\t%g", q.Name, q.Expr, q.ToleranceCM))
	}
	p.Press("Add a point")
	p.Focus(`[data-at="points[0].name"]`)
	p.Paste(strings.Join(block, "\n"))
	for _, q := range sheet.Points {
		if q.Axis == "row" {
			p.Fill("Direction of "+q.Name, "row")
		}
	}
	p.Press("Save the points")
	p.See("The points are saved.")
	p.Accessible()
}
