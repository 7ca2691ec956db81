package host

import (
	"bytes"
	"io"
	"strings"
	"sync"
	"time"
	"unicode"

	"github.com/rs/zerolog"
)

// Bounds on what a plugin may have logged.
const (
	maxLogLineBytes = 4096
	logLinesBurst   = 200
	logLinesPerS    = 20
	lastWordsBytes  = 300
)

// stderrLog logs what a plugin writes to standard error, within bounds, for as
// long as it writes. go-plugin never sees it: it would take lines for its own
// log format and panic on {"@message":5}.
type stderrLog struct {
	log zerolog.Logger

	mu        sync.Mutex
	pending   []byte // of a line without its end yet
	tooLong   bool   // the rest of this line is let go
	lastWords string // the first line of a panic, else the last line
	budget    float64
	refilled  time.Time
	dropped   int
}

func newStderrLog(log zerolog.Logger) *stderrLog {
	return &stderrLog{log: log, budget: logLinesBurst, refilled: time.Now()}
}

// read logs until the end.
func (s *stderrLog) read(from io.Reader) {
	_, _ = io.Copy(s, from)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.endLine()
	s.tellDropped()
}

// Write takes any piece of the output.
func (s *stderrLog) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	n := len(p)
	for len(p) > 0 {
		line, rest, ended := bytes.Cut(p, []byte{'\n'})
		if room := maxLogLineBytes - len(s.pending); len(line) > room {
			line, s.tooLong = line[:room], true
		}
		s.pending = append(s.pending, line...)
		if ended {
			s.endLine()
		}
		p = rest
	}
	return n, nil
}

func (s *stderrLog) endLine() {
	line := s.pending
	if s.tooLong {
		line = append(line, "..."...)
	}
	s.pending, s.tooLong = s.pending[:0], false
	if len(line) == 0 {
		return
	}
	now := time.Now()
	s.budget = min(logLinesBurst, s.budget+now.Sub(s.refilled).Seconds()*logLinesPerS)
	s.refilled = now
	if s.budget < 1 {
		s.dropped++
		return
	}
	s.budget--
	s.tellDropped()
	text := harmless(string(line))
	s.log.Debug().Str("stderr", text).Msg("plugin says")
	if !isPanic(s.lastWords) {
		s.lastWords = strings.ToValidUTF8(text[:min(len(text), lastWordsBytes)], "")
	}
}

func (s *stderrLog) tellDropped() {
	if s.dropped > 0 {
		s.log.Debug().Int("lines", s.dropped).Msg("plugin says too much; lines were dropped")
		s.dropped = 0
	}
}

// words are what it said last.
func (s *stderrLog) words() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.lastWords
}

// harmless takes out control characters, which could move the cursor of whoever
// reads a log or an error.
func harmless(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\t' {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

func isPanic(line string) bool {
	return strings.HasPrefix(line, "panic: ") || strings.HasPrefix(line, "fatal error: ")
}
