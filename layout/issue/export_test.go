package issue

// Names for the tests, which stand outside.
var After = after

const (
	FormBefore   = formBefore
	RegisterEnd  = registerEnd
	RegisterForm = registerForm
	RegisterHead = registerHead
)
