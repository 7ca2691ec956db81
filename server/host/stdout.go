package host

import (
	"bytes"
	"cmp"
	"errors"
	"io"
	"os"
)

// maxHandshakeBytes bounds the one line that a plugin must write to standard
// output.
const maxHandshakeBytes = 1024

// handshake passes the first line on and swallows what follows. go-plugin
// would stop reading at a line of 64 KiB, and the plugin would then block in
// its next print.
type handshake struct {
	from   io.ReadCloser
	passed int
	done   bool
	ended  func() // called once, at the end
}

func (h *handshake) Read(p []byte) (int, error) {
	if h.done {
		_, err := io.Copy(io.Discard, h.from)
		return 0, h.end(cmp.Or(err, io.EOF))
	}
	n, err := h.from.Read(p[:min(len(p), maxHandshakeBytes-h.passed)])
	if i := bytes.IndexByte(p[:n], '\n'); i >= 0 {
		n, h.done = i+1, true
	}
	h.passed += n
	if h.passed >= maxHandshakeBytes {
		h.done = true
	}
	return n, h.end(err)
}

// end tells of the end. A closed pipe is an end like any other.
func (h *handshake) end(err error) error {
	if err == nil {
		return nil
	}
	if h.ended != nil {
		h.ended()
		h.ended = nil
	}
	if errors.Is(err, os.ErrClosed) {
		return io.EOF
	}
	return err
}

func (h *handshake) Close() error { return h.from.Close() }
