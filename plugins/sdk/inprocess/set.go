// Package inprocess runs plugins inside the program that asks: for programs
// that embed the engine, for tests, and as the twin that the plugin host is
// compared with. The rules, the rights and the bounds are those of a separate
// process; what is missing is the fence. A rule that never returns, or that
// ends the program, takes the program with it.
package inprocess

import (
	"context"
	"fmt"
	"maps"
	"runtime/debug"
	"slices"
	"strings"

	"lixivium.example/engine"
	"lixivium.example/plugins/sdk"
)

// Reasons of failures.
const (
	reasonBroken  = "CONTRACT_BROKEN"
	reasonCrashed = "PLUGIN_CRASHED"
)

// Set answers for its plugins. It implements engine.Additives, holds no state
// that changes, and may be used by any number of goroutines.
type Set struct {
	plugins []*sdk.Plugin  // by name
	owner   map[string]int // additive to plugin
	infos   map[string]engine.AdditiveInfo
}

// New makes a set of plugins that are granted what they want. Refused: a plugin
// whose description breaks the contract, a name twice, and an additive that two
// plugins claim.
func New(plugins ...*sdk.Plugin) (*Set, error) {
	s := &Set{plugins: slices.Clone(plugins), owner: map[string]int{}, infos: map[string]engine.AdditiveInfo{}}
	slices.SortStableFunc(s.plugins, func(a, b *sdk.Plugin) int { return strings.Compare(a.Name, b.Name) })
	for i, p := range s.plugins {
		if err := p.Check(); err != nil {
			return nil, err
		}
		if i > 0 && s.plugins[i-1].Name == p.Name {
			return nil, fmt.Errorf("two plugins are named %q", p.Name)
		}
		for j := range p.Owns {
			a := &p.Owns[j]
			if other, taken := s.owner[a.ID]; taken {
				return nil, fmt.Errorf("the additive %q is claimed by %q and by %q; an additive has one owner", a.ID, s.plugins[other].Name, p.Name)
			}
			s.owner[a.ID] = i
			s.infos[a.ID] = info(p, a)
		}
	}
	return s, nil
}

// Owner describes an additive, and whether a plugin of the set owns it.
func (s *Set) Owner(additive string) (engine.AdditiveInfo, bool) {
	i, ok := s.infos[additive]
	return i, ok
}

// Owned are the ids of the additives owned.
func (s *Set) Owned() []string { return slices.Sorted(maps.Keys(s.infos)) }

// Additives describes everything that is owned, by id.
func (s *Set) Additives() []engine.AdditiveInfo {
	out := make([]engine.AdditiveInfo, 0, len(s.infos))
	for _, i := range s.infos {
		out = append(out, i)
	}
	slices.SortFunc(out, func(a, b engine.AdditiveInfo) int { return strings.Compare(a.ID, b.ID) })
	return out
}

// Adjust asks every plugin that owns a dose of the question, or watches a fat
// of it. It never returns an error: what a plugin does wrong is a Failure.
func (s *Set) Adjust(ctx context.Context, q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
	out := &engine.AdjustAnswer{}
	for i, p := range s.plugins {
		ask, ids := s.question(i, q)
		if len(ask.Doses) == 0 && len(ask.FatPct) == 0 || p.Adjust == nil {
			continue
		}
		var a sdk.Answer
		err := guarded(func() { a = p.Adjust(ctx, ask) })
		if err == nil {
			err = sdk.CheckAnswer(p, p.Wants, ask, a)
		}
		if err != nil {
			out.Failures = append(out.Failures, failure(p, ids, err))
			continue
		}
		addAnswer(out, &a)
	}
	return out, nil
}

// Review shows the batch to every plugin that owns a dose of it, or watches a
// fat of it.
func (s *Set) Review(ctx context.Context, b *engine.ReviewBatch) (*engine.ReviewAnswer, error) {
	out := &engine.ReviewAnswer{}
	for i, p := range s.plugins {
		ids := s.owned(i, b.Doses)
		if p.Review == nil || len(ids) == 0 && !watches(p, b.Formulation.Fats) {
			continue
		}
		var found []sdk.Finding
		err := guarded(func() { found = p.Review(ctx, batch(b)) })
		if err == nil {
			err = sdk.CheckFindings(p, p.Wants, found)
		}
		if err != nil {
			out.Failures = append(out.Failures, failure(p, ids, err))
			continue
		}
		for j := range found {
			out.Findings = append(out.Findings, finding(&found[j], b))
		}
	}
	return out, nil
}

// owned lists the doses that plugin i owns.
func (s *Set) owned(i int, doses []engine.DoseView) []string {
	var ids []string
	for j := range doses {
		if o, ok := s.owner[doses[j].Additive]; ok && o == i {
			ids = append(ids, doses[j].ID)
		}
	}
	return ids
}

func watches(p *sdk.Plugin, fats []engine.FatAnswer) bool {
	return slices.ContainsFunc(fats, func(f engine.FatAnswer) bool { return slices.Contains(p.WatchesFats, f.FatID) })
}

// crash is a panic of a rule.
type crash struct{ text string }

func (c crash) Error() string { return c.text }

func guarded(rule func()) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = crash{fmt.Sprintf("a rule panicked: %v\n%s", r, debug.Stack())}
		}
	}()
	rule()
	return nil
}

func failure(p *sdk.Plugin, doses []string, err error) engine.Failure {
	f := engine.Failure{Plugin: p.Name, DoseIDs: doses, Reason: reasonBroken, Text: err.Error()}
	if _, crashed := err.(crash); crashed {
		f.Reason = reasonCrashed
	}
	f.Grants = rights(p)
	return f
}

func rights(p *sdk.Plugin) []engine.Grant {
	out := make([]engine.Grant, len(p.Wants))
	for i, g := range p.Wants {
		out[i] = engine.Grant(g)
	}
	return out
}
