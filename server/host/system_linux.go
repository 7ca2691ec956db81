package host

import (
	"bytes"
	"errors"
	"os"
	"strconv"
	"syscall"
)

// dieWithThread has the system kill a child when the thread that forked it
// ends. The lifeline comes first; this is for a plugin that is frozen, or
// keeps no lifeline, when the host is killed. It needs a thread that lives as
// long as the host: see starter.
func dieWithThread(a *syscall.SysProcAttr) { a.Pdeathsig = syscall.SIGKILL }

// residentBytes is the memory that a process holds.
func residentBytes(pid int) (uint64, error) {
	text, err := os.ReadFile("/proc/" + strconv.Itoa(pid) + "/statm")
	if err != nil {
		return 0, err
	}
	part := bytes.Fields(text)
	if len(part) < 2 {
		return 0, errors.New("the system tells no memory of the process")
	}
	pages, err := strconv.ParseUint(string(part[1]), 10, 64)
	return pages * uint64(os.Getpagesize()), err
}
