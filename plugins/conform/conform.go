// Package conform is the conformance kit for additive plugins: what a host
// relies on, tried over a grid of questions and batches. It judges the contract,
// not the facts: that a factor is right for its additive is for the author's own
// tests to show.
//
//	func TestContract(t *testing.T) { conform.Run(t, oats.Plugin()) }
//
// An executable, in whatever language, is tried the same way once it runs:
//
//	conform.Run(t, conform.Start(t, "bin/acme-oats"))
package conform

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"sync"
	"testing"

	"lixivium.example/plugins/sdk"
)

// Run tries the plugin as subtests of t.
func Run(t *testing.T, p *sdk.Plugin) {
	t.Helper()
	if err := p.Check(); err != nil {
		t.Fatalf("the description breaks the contract: %v", err)
	}
	t.Run("every dose is answered within bounds and grants", func(t *testing.T) { answers(t, p) })
	t.Run("the same question gets the same answer", func(t *testing.T) { pure(t, p) })
	t.Run("doses do not see each other", func(t *testing.T) { alone(t, p) })
	t.Run("findings keep the contract", func(t *testing.T) { findings(t, p) })
	t.Run("odd batches are survived", func(t *testing.T) { odd(t, p) })
}

// ask calls Adjust with a copy of the question and refuses a rule that writes
// into what it was asked.
func ask(t *testing.T, p *sdk.Plugin, q sdk.Question) sdk.Answer {
	t.Helper()
	before := fmt.Sprint(q)
	a := p.Adjust(context.Background(), q)
	if after := fmt.Sprint(q); after != before {
		t.Errorf("the question was written into:\nbefore %s\nafter  %s", before, after)
	}
	return a
}

func answers(t *testing.T, p *sdk.Plugin) {
	adjusted := map[string]bool{}
	for _, d := range grid(p) {
		for _, c := range everyCondition {
			q := sdk.Question{Doses: []sdk.Dose{d}, Conditions: c}
			a := ask(t, p, q)
			if err := sdk.CheckAnswer(p, p.Wants, q, a); err != nil {
				t.Fatalf("%s: %v", words(d), err)
			}
			if len(a.Adjustments) == 1 {
				adjusted[d.Additive] = true
			}
		}
	}
	for i := range p.Owns {
		if id := p.Owns[i].ID; !adjusted[id] {
			t.Errorf("%s: every dose of the grid was rejected", id)
		}
	}
	if len(p.WatchesFats) > 0 {
		q := sdk.Question{FatPct: map[string]float64{}}
		for _, f := range p.WatchesFats {
			q.FatPct[f] = 100 / float64(len(p.WatchesFats))
		}
		if err := sdk.CheckAnswer(p, p.Wants, q, ask(t, p, q)); err != nil {
			t.Error(err)
		}
	}
}

// pure asks the same from several goroutines: a host does, and an answer that
// changes takes the plugin out of service.
func pure(t *testing.T, p *sdk.Plugin) {
	if p.Adjust == nil {
		return
	}
	q := everything(p)
	want := ask(t, p, q)
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			for range 20 {
				if got := p.Adjust(context.Background(), copyOf(q)); !reflect.DeepEqual(got, want) {
					t.Errorf("asked again, the answer differs:\nfirst %+v\nnow   %+v", want, got)
					return
				}
			}
		})
	}
	wait.Wait()
}

// alone compares each dose's answer among all others, in both orders, with its
// answer alone.
func alone(t *testing.T, p *sdk.Plugin) {
	if p.Adjust == nil {
		return
	}
	q := everything(p)
	back := copyOf(q)
	slices.Reverse(back.Doses)
	forth, reversed := byDose(ask(t, p, q)), byDose(ask(t, p, back))
	for _, d := range q.Doses {
		one := byDose(ask(t, p, sdk.Question{Doses: []sdk.Dose{d}, Conditions: q.Conditions}))[d.ID]
		if !reflect.DeepEqual(forth[d.ID], one) || !reflect.DeepEqual(reversed[d.ID], one) {
			t.Errorf("%s is answered otherwise among others:\nalone %+v\nwith  %+v\nback  %+v", words(d), one, forth[d.ID], reversed[d.ID])
		}
	}
}

// byDose is what an answer says of each dose.
func byDose(a sdk.Answer) map[string]any {
	out := map[string]any{}
	for _, x := range a.Adjustments {
		out[x.DoseID] = x
	}
	for _, x := range a.Rejections {
		out[x.DoseID] = x
	}
	return out
}

func words(d sdk.Dose) string {
	return fmt.Sprintf("%s at %v %% of the fats, stage %s, carrier %q %v g/g, portion %q, parameters %v",
		d.Additive, d.OfFatsPct, d.Stage, d.Carrier, d.CarrierGPerG, d.PortionID, d.Parameters)
}
