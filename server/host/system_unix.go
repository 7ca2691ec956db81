//go:build unix

package host

import (
	"errors"
	"os"
	"os/exec"
	"syscall"
)

// ownGroup puts a child into a process group of its own: it can be killed with
// what it forked, and an interrupt typed at the terminal does not reach it.
func ownGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	dieWithThread(cmd.SysProcAttr)
}

// killGroup kills a process group.
func killGroup(leader int) { _ = syscall.Kill(-leader, syscall.SIGKILL) }

// endedBySIGKILL tells whether a process ended by the one signal that no program
// sends itself by mistake.
func endedBySIGKILL(s *os.ProcessState) bool {
	w, ok := s.Sys().(syscall.WaitStatus)
	return ok && w.Signaled() && w.Signal() == syscall.SIGKILL
}

func processAlive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}

// tryLock takes the lock of a file that the system lets go of when the
// process ends.
func tryLock(f *os.File) error {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
}
