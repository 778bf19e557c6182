package schedule

import "fmt"

// readPeople checks everybody, and makes calendars for those who have tasks in
// hours. Somebody without working days may be listed, but not given work.
func (n *network) readPeople(people []Person, tasks []Task) error {
	firstTask := make(map[string]string)
	for _, t := range tasks {
		if _, has := firstTask[t.Who]; t.Hours != nil && !has {
			firstTask[t.Who] = t.ID
		}
	}
	seen := make(map[string]int, len(people))
	for i, p := range people {
		field := fmt.Sprintf("people[%d]", i)
		if err := checkName(field+".id", p.ID, seen); err != nil {
			return err
		}
		seen[p.ID] = i
		works, err := readWeek(field+".days", p.Days)
		if err != nil {
			return err
		}
		away, err := n.readAway(field+".away", p.Away)
		if err != nil {
			return err
		}
		if !(p.HoursPerDay >= 0 && p.HoursPerDay <= MaxHoursPerDay) { // written so that NaN fails too
			return fault(field+".hours_per_day", "is %v; give hours up to %v", p.HoursPerDay, MaxHoursPerDay)
		}
		known := person{id: p.ID}
		if taskID, busy := firstTask[p.ID]; busy {
			if works == [7]bool{} {
				return fault(field+".days", "%s has no working day, but has tasks to do, such as %q; give at least one of mon to sun", clip(p.ID), clip(taskID))
			}
			if p.HoursPerDay < MinHoursPerDay {
				return fault(field+".hours_per_day", "is %v, but %s has tasks to do, such as %q; give at least %v hours", p.HoursPerDay, clip(p.ID), clip(taskID), MinHoursPerDay)
			}
			known.calendar = newCalendar(n.today, p.HoursPerDay, works, away)
		}
		n.people = append(n.people, known)
	}
	return nil
}

func readWeek(field string, days []string) (works [7]bool, err error) {
	for i, name := range days {
		w := weekdayNumber(name)
		if w < 0 {
			return works, fault(fmt.Sprintf("%s[%d]", field, i), "%q is not a day of the week; write one of mon, tue, wed, thu, fri, sat, sun", clip(name))
		}
		if works[w] {
			return works, fault(fmt.Sprintf("%s[%d]", field, i), "%s is given twice", name)
		}
		works[w] = true
	}
	return works, nil
}

func (n *network) readAway(field string, dates []string) (map[int]bool, error) {
	if len(dates) > MaxAway {
		return nil, fault(field, "has %d dates; at most %d are allowed", len(dates), MaxAway)
	}
	away := make(map[int]bool, len(dates))
	for i, text := range dates {
		days, err := readOffset(fmt.Sprintf("%s[%d]", field, i), text, n.today)
		if err != nil {
			return nil, err
		}
		away[days] = true
	}
	return away, nil
}
