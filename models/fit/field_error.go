package fit

import "tenter/models/gauge"

// FieldError names the input field at fault and how to mend it.
type FieldError = gauge.FieldError
