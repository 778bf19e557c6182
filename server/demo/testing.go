package demo

import (
	"context"
	"fmt"
	"strings"

	"tenter/models"
)

// round is one test call of a design and those who take part.
type round struct {
	store  *models.Store
	g      *garment
	callID string
	asked  map[string]string // assignment ids by handle

	madeID string // the version that the call is for
}

func newRound(store *models.Store, g *garment) *round {
	return &round{store: store, g: g, asked: map[string]string{}}
}

// confidential is what testers agree to.
const confidential = "Until the day of release the pattern is between you and us: please don't pass on the text or its numbers, " +
	"don't show pictures from which it could be worked out, and don't teach from it. You may say that you are testing for us, " +
	"and show the finished piece after the release. Everything here is invented."

// open opens the call for the latest version, with the same number of testers
// wanted for every size.
func (r *round) open(ctx context.Context, as models.Actor, title string, opens, due models.Date, fewest, wanted, most int) error {
	in := models.NewTestCall{Title: title, OpensOn: opens, DueOn: due, Confidentiality: confidential}
	for _, id := range r.g.sizeIDs {
		in.Slots = append(in.Slots, models.Slot{SizeID: id, Fewest: fewest, Wanted: wanted, Most: most})
	}
	call, err := r.store.AddTestCall(ctx, as, r.g.id, in)
	if err != nil {
		return err
	}
	r.callID, r.madeID = call.ID, call.VersionID
	return nil
}

// applicant is a row of the sign-up form.
type applicant struct {
	handle             string
	sizes              string // the one they would like best first
	accepted, finished int
	remark             string
}

// enter imports the sign-up form's table; the offers came in one an hour from
// the given day on.
func (r *round) enter(ctx context.Context, as models.Actor, from models.Date, rows []applicant) error {
	var table strings.Builder
	table.WriteString("Timestamp,Handle,Name,E-mail,Sizes you would make (best first),Tests accepted so far,Tests finished so far,Units,Terms,Remarks\n")
	for i, a := range rows {
		unit, terms := "cm", "US"
		if measuresInches(a.handle) {
			unit = "in"
		}
		if readsUK(a.handle) {
			terms = "UK"
		}
		fmt.Fprintf(&table, "%s %02d:%02d,%s,%s,%s,%s,%d,%d,%s,%s,%q\n", from.Add(i/10), 8+i%10, (7*i)%60, a.handle, fullName(a.handle), *address(a.handle),
			a.sizes, a.accepted, a.finished, unit, terms, a.remark)
	}
	_, err := r.store.ImportApplicants(ctx, as, r.callID, models.Sheetful{Data: []byte(table.String())}, false)
	return err
}

// ask asks a tester to make a size; due "" is the call's own last day.
func (r *round) ask(ctx context.Context, as models.Actor, handle string, size int, due models.Date) error {
	person, err := handleID(ctx, r.store, handle)
	if err != nil {
		return err
	}
	a, err := r.store.Assign(ctx, as, r.callID, models.NewAssignment{PersonID: *person, SizeID: r.g.sizeIDs[size], DueOn: due})
	if err != nil {
		return err
	}
	r.asked[handle] = a.ID
	return nil
}

func (r *round) accept(handle string) deed {
	return func(ctx context.Context, as models.Actor) error {
		_, err := r.store.AcceptAssignment(ctx, as, r.asked[handle], nil)
		return err
	}
}

// send sends the report of a finished piece.
func (r *round) send(f finisher, note string) deed {
	return func(ctx context.Context, as models.Actor) error {
		in := f.report(r.g)
		in.Note = note
		if err := take(ctx, r.store, as, models.PhotoPlace{AssignmentID: r.asked[f.handle]}, photographed[f.handle]...); err != nil {
			return err
		}
		_, err := r.store.SendReport(ctx, as, r.asked[f.handle], in)
		return err
	}
}

// approve lets the designer take reports as they are.
func (r *round) approve(handles ...string) deed {
	return func(ctx context.Context, as models.Actor) error {
		for _, handle := range handles {
			a, err := r.store.Assignment(ctx, as, r.asked[handle])
			if err != nil {
				return err
			}
			if _, err := r.store.ApproveReport(ctx, as, *a.ReportID, true); err != nil {
				return err
			}
		}
		return nil
	}
}

func (r *round) close(ctx context.Context, as models.Actor) error {
	call, err := r.store.TestCall(ctx, r.callID)
	if err != nil {
		return err
	}
	yes := true
	_, err = r.store.ChangeTestCall(ctx, as, r.callID, &call.Revision, models.TestCallChange{Closed: &yes})
	return err
}

// tell passes on what of a kind is due to the testers.
func (r *round) tell(kind models.ReminderKind) deed {
	return func(ctx context.Context, as models.Actor) error {
		due, err := r.store.Reminders(ctx, r.callID)
		if err != nil {
			return err
		}
		for _, x := range due {
			if x.Kind != kind {
				continue
			}
			if err := r.store.MarkTold(ctx, as, r.callID, x.PersonID, x.Kind, x.About); err != nil {
				return err
			}
		}
		return nil
	}
}
