//go:build !unix

package sdk

import "os"

// takeStdout keeps standard output for the handshake and sends what is printed
// to standard error.
func takeStdout() *os.File {
	out := os.Stdout
	os.Stdout = os.Stderr
	return out
}
