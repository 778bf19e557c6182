package models

// agreeByAccepting keeps that a tester who takes a size on agrees to the
// call's wording of that day, which stands on the page where they accept. It
// is theirs to give: a report that the designer brings in says nothing of it.
func (t *tx) agreeByAccepting(a *Assignment) error {
	if t.actor.PersonID != a.PersonID {
		return nil
	}
	call, err := t.lockCall(a.TestCallID)
	if err != nil {
		return err
	}
	return t.agree(call, a.PersonID)
}
