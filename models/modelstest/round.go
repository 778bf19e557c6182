package modelstest

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gorm.io/gorm"

	"tenter/models"
)

// Round is how large a design with a test call is made.
type Round struct{ Sizes, Points, Reports int }

// FillDesigns adds n designs with counts, points, a call and reports of the
// given size. It writes the rows themselves, many at once: going through the
// Store would make a thousand designs take minutes.
func FillDesigns(t testing.TB, store *models.Store, n int, r Round) {
	t.Helper()
	db := Rows(t, store)
	var have int64
	require.NoError(t, db.Model(&models.Design{}).Count(&have).Error)
	people := testers(t, store, db, r.Reports)
	require.NoError(t, db.Transaction(func(tx *gorm.DB) error {
		for i := range n {
			f := filler{r: r, now: store.Now(), people: people}
			f.design(int(have) + i + 1)
			if err := f.write(tx); err != nil {
				return err
			}
		}
		return nil
	}))
}

// testers adds as many testers as there are reports, once for the database.
func testers(t testing.TB, store *models.Store, db *gorm.DB, n int) []string {
	t.Helper()
	var ids []string
	require.NoError(t, db.Model(&models.Person{}).Where("handle LIKE 'tester-%'").Order("handle").Pluck("id", &ids).Error)
	for i := len(ids); i < n; i++ {
		p, err := store.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: fmt.Sprintf("tester-%03d", i), Roles: []models.Role{models.Tester}})
		require.NoError(t, err)
		ids = append(ids, p.ID)
	}
	return ids[:n]
}

// filler makes the rows of one design.
type filler struct {
	r      Round
	now    time.Time
	people []string

	d            models.Design
	v            models.Version
	sizes        []models.Size
	counts       []models.Count
	values       []models.CountValue
	points       []models.Point
	intended     []models.IntendedMeasurement
	call         models.TestCall
	slots        []models.Slot
	assignments  []models.Assignment
	reports      []models.Report
	measurements []models.Measurement
	installments []models.Installment
}

func (f *filler) design(number int) {
	f.d = models.Design{ID: models.NewID(), Slug: fmt.Sprintf("design-%d", number), Name: fmt.Sprintf("Design %d", number), Craft: "crochet", Audience: "unisex",
		Terms: "us", Unit: "cm", Gauge: models.Gauge{Stitches: 14, Rows: 11, Span: 10, Unit: "cm"}, Revision: 1, CreatedAt: f.now, UpdatedAt: f.now}
	f.v = models.Version{ID: models.NewID(), DesignID: f.d.ID, Number: 1, GivenOutAt: &f.now, Revision: 1, CreatedAt: f.now, UpdatedAt: f.now}
	for i := range f.r.Sizes {
		f.sizes = append(f.sizes, models.Size{ID: models.NewID(), DesignID: f.d.ID, Position: i + 1, Name: fmt.Sprint(i + 1), Filmed: i == 0})
	}
	for i := range f.r.Points {
		f.point(i)
	}
	f.testing()
	for i := range 4 {
		f.installments = append(f.installments, models.Installment{ID: models.NewID(), DesignID: f.d.ID, Position: i + 1, Title: fmt.Sprintf("Part %d", i+1),
			AirOn: models.DateOf(f.now, time.UTC).Add(7 * (i + 1)), Revision: 1, CreatedAt: f.now, UpdatedAt: f.now})
	}
}

func (f *filler) point(i int) {
	count := models.Count{ID: models.NewID(), VersionID: f.v.ID, Position: i + 1, Name: fmt.Sprintf("count_%d", i+1), Unit: "stitch"}
	point := models.Point{ID: models.NewID(), DesignID: f.d.ID, Position: i + 1, Name: fmt.Sprintf("point %d", i+1), Axis: "stitch", Expr: count.Name,
		Add: models.NewLength(0, "cm"), Tolerance: models.NewLength(1.5, "cm"), Repeat: 1}
	for j, z := range f.sizes {
		value := float64(40 + 10*j + 3*i)
		f.values = append(f.values, models.CountValue{CountID: count.ID, SizeID: z.ID, Value: value})
		f.intended = append(f.intended, models.IntendedMeasurement{PointID: point.ID, SizeID: z.ID, Length: models.NewLength(value*10/14, "cm")})
	}
	f.counts, f.points = append(f.counts, count), append(f.points, point)
}

func (f *filler) testing() {
	f.call = models.TestCall{ID: models.NewID(), DesignID: f.d.ID, VersionID: f.v.ID, Title: "Call", OpensOn: "2027-01-01", DueOn: "2027-03-01", Revision: 1, CreatedAt: f.now, UpdatedAt: f.now}
	for _, z := range f.sizes {
		f.slots = append(f.slots, models.Slot{TestCallID: f.call.ID, SizeID: z.ID, Fewest: 1, Wanted: 1, Most: f.r.Reports})
	}
	stitches, rows, span, unit := 13.5, 11.0, 4.0, "in"
	for i, person := range f.people {
		size := i % len(f.sizes)
		a := models.Assignment{ID: models.NewID(), TestCallID: f.call.ID, DesignID: f.d.ID, PersonID: person, SizeID: f.sizes[size].ID, VersionID: f.v.ID,
			DueOn: f.call.DueOn, AssignedAt: f.now, AcceptedAt: &f.now, Revision: 1, CreatedAt: f.now, UpdatedAt: f.now}
		r := models.Report{ID: models.NewID(), AssignmentID: a.ID, Number: 1, SentAt: f.now, Source: "tester",
			Swatch: models.SwatchGauge{Stitches: &stitches, Rows: &rows, Span: &span, Unit: &unit}, Revision: 1, CreatedAt: f.now, UpdatedAt: f.now}
		for j, point := range f.points {
			expected := float64(40+10*size+3*j) * 10.16 / stitches
			f.measurements = append(f.measurements, models.Measurement{ReportID: r.ID, PointID: point.ID, Reading: 1, Length: models.NewLength(expected+float64((i+j)%5)/2-1, "cm")})
		}
		f.assignments, f.reports = append(f.assignments, a), append(f.reports, r)
	}
}

// rowsInOneInsert stays below both databases' limits of parameters.
const rowsInOneInsert = 300

func (f *filler) write(db *gorm.DB) error {
	for _, rows := range []any{&f.d, &f.v, &f.sizes, &f.counts, &f.values, &f.points, &f.intended, &f.call, &f.slots, &f.assignments, &f.reports, &f.measurements, &f.installments} {
		if err := db.CreateInBatches(rows, rowsInOneInsert).Error; err != nil {
			return fmt.Errorf("fill %T: %w", rows, err)
		}
	}
	return nil
}
