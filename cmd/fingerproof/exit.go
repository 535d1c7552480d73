package main

// Exit statuses (DEVELOPERS.md, decision 7). Where several hold, 2 comes before 1 before 3.
const (
	exitClean       = 0   // done, and nothing that asks for another status; milder findings may stand
	exitFindings    = 1   // findings at or above --fail-on
	exitFailed      = 2   // the work could not be done, a failed piece included
	exitDiffers     = 3   // nothing worse than differences
	exitInterrupted = 130 // stopped by the user
)

// exitError ends a command with a status other than exitFailed. Where said is
// true everything has been printed already.
type exitError struct {
	code int
	said bool
	msg  string
}

func (e exitError) Error() string { return e.msg }

// exitWith gives the error that ends a command with the status, nil for clean.
func exitWith(code int) error {
	if code == exitClean {
		return nil
	}
	return exitError{code: code, said: true}
}

// comparedStatus is the status of a comparison: of failures and differences the former count first.
func comparedStatus(failed, differs bool) int {
	switch {
	case failed:
		return exitFailed
	case differs:
		return exitDiffers
	}
	return exitClean
}

// statusesOf says what the statuses 1 and 3 mean of the commands that can end with them; "" where a command cannot.
// No other command ends with anything but 0, 2 or 130.
var statusesOf = map[string]struct{ one, three string }{
	"run":         {"findings at or above --fail-on; with --press, something is open", ""},
	"lint":        {"findings at or above --fail-on", ""},
	"diff":        {"", "something differs"},
	"check":       {"", "something is not as it was passed; with --policy, something would change"},
	"pass":        {"a piece was not passed, since something is left to judge", ""},
	"fit":         {"nothing was written: the weights as they are do as well", ""},
	"join":        {"as the command whose parts are joined", "as the command whose parts are joined"},
	"policy test": {"a test of the house style fails", ""},
}

// exitStatusHelp is the block every help text ends in.
const exitStatusHelp = `
EXIT STATUS
  0    done, and nothing that asks for another status
  1    findings at or above --fail-on
  2    the work could not be done, one failed piece included
  3    nothing worse than differences
  130  interrupted`
