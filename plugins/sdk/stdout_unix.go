//go:build unix

package sdk

import (
	"os"

	"golang.org/x/sys/unix"
)

// takeStdout keeps standard output for the handshake and turns descriptor 1
// into standard error, also for code that does not go through os.Stdout. The
// kept one is closed in children.
func takeStdout() *os.File {
	fd, err := unix.FcntlInt(1, unix.F_DUPFD_CLOEXEC, 3)
	if err != nil {
		fail("standard output is closed, so there is no way to answer the host: " + err.Error())
	}
	if err := unix.Dup2(2, 1); err != nil {
		fail("standard output cannot be set aside: " + err.Error())
	}
	return os.NewFile(uintptr(fd), "handshake")
}
