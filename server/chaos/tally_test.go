//go:build chaos

package chaos_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
)

// tally counts calls and harms.
type tally struct {
	mu       sync.Mutex
	calls    map[string]int
	verdicts map[string]int
	harms    map[string]int
	wrong    []string
	wrongs   int
}

func newTally() *tally {
	return &tally{calls: map[string]int{}, verdicts: map[string]int{}, harms: map[string]int{}}
}

// maxWrongKept bounds what is printed of wrong answers.
const maxWrongKept = 10

func (c *tally) call(q question, v verdict) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.calls[q.call]++
	if v.wrong == "" {
		c.verdicts[v.kind]++
		return
	}
	c.wrongs++
	if len(c.wrong) < maxWrongKept {
		c.wrong = append(c.wrong, fmt.Sprintf("%s (%s): %.1200s\nasked: %.800s", q.call, v.kind, v.wrong, brief(q.request)))
	}
}

// takeWrong gives what was answered wrongly since it was asked last.
func (c *tally) takeWrong() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	out := c.wrong
	c.wrong = nil
	return out
}

func (c *tally) harm(h harm) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.harms[string(h)]++
}

func (c *tally) count(kind string) int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.verdicts[kind]
}

// notDone lists the harms that were not done.
func (c *tally) notDone() (out []string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, h := range allHarms {
		if c.harms[string(h)] == 0 {
			out = append(out, string(h))
		}
	}
	return out
}

func (c *tally) String() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	var b strings.Builder
	total := 0
	for _, n := range c.calls {
		total += n
	}
	fmt.Fprintf(&b, "%d calls, %d wrong\n", total, c.wrongs)
	for _, part := range []struct {
		title string
		of    map[string]int
	}{{"calls", c.calls}, {"what became of them", c.verdicts}, {"harms done", c.harms}} {
		fmt.Fprintf(&b, "%s:\n", part.title)
		for _, k := range slices.Sorted(maps.Keys(part.of)) {
			fmt.Fprintf(&b, "  %7d  %s\n", part.of[k], k)
		}
	}
	return b.String()
}
