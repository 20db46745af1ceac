package main

import "fmt"

// Exit statuses.
const (
	statusDone  = 0
	statusInput = 1 // a file, or what it says, is at fault
	statusCall  = 2 // the command line is at fault
	statusShort = 3 // the thing checked falls short
)

// A failure is an error that carries the exit status it leads to.
type failure struct {
	status int
	err    error
}

func (f *failure) Error() string {
	if f.err == nil {
		return ""
	}
	return f.err.Error()
}

func (f *failure) Unwrap() error { return f.err }

// badCall says that the command line is at fault.
func badCall(format string, args ...any) error {
	return &failure{status: statusCall, err: fmt.Errorf(format, args...)}
}

// fallsShort is the end of a check that found something wanting, all of which has been reported already.
func fallsShort() error { return &failure{status: statusShort} }
