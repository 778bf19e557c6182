package models

import "fmt"

// early refuses to let something out before its announced day unless whoever
// asks has said that this is meant: a slip of the finger on a release page can't
// be called back by those who have seen it. moved names the field in which the
// day could be moved instead.
func early(what string, announced, today Date, meant bool, moved string) error {
	if meant || announced == "" || announced <= today {
		return nil
	}
	return &Error{Kind: Invalid, Message: fmt.Sprintf("%s is announced for %s.", what, announced.words(today)), Fields: []FieldProblem{{"before_its_day",
		fmt.Sprintf("is not set, and the announced day is %s, %s from today; set it if this is to be out before its day, or move the day (%s) first",
			announced, counted(today.DaysUntil(announced), "day"), moved)}}}
}
