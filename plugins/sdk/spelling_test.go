package sdk

import (
	"regexp"
	"testing"
)

// The spellings as patterns, which say the same and run slower.
func FuzzSpelling(f *testing.F) {
	for _, s := range []string{"", "a", "a-b", "a--b", "-a", "a-", "1a", "a1-2", "a_b", "A_B1", "Ab", "ä", "a\n"} {
		f.Add(s)
	}
	patterns := map[spelling]*regexp.Regexp{
		hyphenated:  regexp.MustCompile(`\A[a-z][a-z0-9]*(-[a-z0-9]+)*\z`),
		underscored: regexp.MustCompile(`\A[a-z][a-z0-9]*(_[a-z0-9]+)*\z`),
		upperCase:   regexp.MustCompile(`\A[A-Z][A-Z0-9]*(_[A-Z0-9]+)*\z`),
	}
	f.Fuzz(func(t *testing.T, id string) {
		for s, p := range patterns {
			if got, want := s.matches(id), p.MatchString(id); got != want {
				t.Errorf("%q with %q: %v, want %v", id, s.joint, got, want)
			}
		}
	})
}
