package listen

import (
	"os"
	"runtime/debug"
)

// gcPercent lets the heap grow to five times what is in use, a few megabytes,
// before it is collected. With the runtime's 100 a busy server collects several
// hundred times a second, which costs a sixth of its calls.
const gcPercent = 400

// CalmCollector sets the garbage collector of this process for serving. It
// leaves the last word to whoever sets GOGC.
func CalmCollector() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(gcPercent)
	}
}
