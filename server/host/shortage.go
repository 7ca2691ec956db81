package host

import (
	"errors"
	"slices"
	"strings"
	"syscall"
	"time"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
)

// shortageWait is the wait before a plugin is started again that could not be
// because the machine was short of something.
const shortageWait = time.Second

// shortages are what the system answers when it has no more descriptors, disk,
// memory or processes to give.
var shortages = []error{
	syscall.EMFILE, syscall.ENFILE, syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG, syscall.ENOMEM, syscall.EAGAIN,
}

// short tells whether an attempt to start a plugin failed because the machine
// was short of something. That is no fault of the plugin and passes: it must
// not put the plugin out of service until the program is started anew.
func short(err error) bool {
	if slices.ContainsFunc(shortages, func(s error) bool { return errors.Is(err, s) }) {
		return true
	}
	// Of a connection that could not be made the library keeps only the text.
	return status.Code(err) == codes.Unavailable && strings.Contains(err.Error(), syscall.EMFILE.Error())
}

// unstarted is an attempt that went wrong, told for the operator.
type unstarted struct {
	text  string
	cause error
}

func (u *unstarted) Error() string { return u.text }
func (u *unstarted) Unwrap() error { return u.cause }
