package engine_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"lixivium.example/engine"
)

// answer is what an owner does when it is asked.
type answer = func(*engine.AdjustQuestion) (*engine.AdjustAnswer, error)

// rules are additive rules as plain functions, as an embedder would write them.
type rules struct {
	owned    map[string]engine.AdditiveInfo
	adjust   answer
	review   func(*engine.ReviewBatch) (*engine.ReviewAnswer, error)
	asked    []*engine.AdjustQuestion
	reviewed []*engine.ReviewBatch
}

func (r *rules) Owner(additive string) (engine.AdditiveInfo, bool) {
	info, ok := r.owned[additive]
	return info, ok
}

func (r *rules) Adjust(_ context.Context, q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
	r.asked = append(r.asked, q)
	return r.adjust(q)
}

func (r *rules) Review(_ context.Context, b *engine.ReviewBatch) (*engine.ReviewAnswer, error) {
	r.reviewed = append(r.reviewed, b)
	if r.review == nil {
		return &engine.ReviewAnswer{}, nil
	}
	return r.review(b)
}

// pulp is a made-up additive that brings water, takes alkali, may take more,
// binds and asks for water, and speeds trace.
func pulp() *rules {
	return &rules{
		owned: map[string]engine.AdditiveInfo{"pulp": {
			ID: "pulp", Name: "Fruit pulp", GPerTeaspoonUS: 5, UsualStage: engine.StageTrace,
			Parameters: []engine.ParameterInfo{{Name: "acid_pct", Unit: "%", Min: 0, Max: 10, Default: 1}},
			Plugin:     engine.PluginOrigin{Name: "fruit", Version: "1.2.0", Digest: "sha256:00"},
		}},
		adjust: func(q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
			out := &engine.AdjustAnswer{}
			for _, d := range q.Doses {
				mol := d.Parameters["acid_pct"] / 100 / 64
				out.Adjustments = append(out.Adjustments, engine.Adjustment{
					DoseID: d.ID, WaterGPerG: 0.8, AlkaliMolPerG: mol, AlkaliHalfMolPerG: mol / 10, AlkaliHighMolPerG: 3 * mol,
					BoundWaterGPerG: 0.1, RequestedWaterGPerG: 0.5, DensityGPerML: 1.05, HeatJPerG: 12,
					TraceTime: engine.Band{Low: 0.6, Typical: 0.8, High: 1}, Firmness: engine.Band{Low: 0.9, Typical: 0.95, High: 1},
					Evidence: engine.Evidence{Basis: engine.Estimate},
				})
			}
			return out, nil
		},
	}
}

func with(t *testing.T, a engine.Additives, r *engine.Recipe, balances ...engine.Balance) *engine.Formulation {
	t.Helper()
	f, err := engine.New(a).Formulate(context.Background(), r, engine.Options{Balances: balances})
	if err != nil {
		t.Fatalf("refused: %v", err)
	}
	return f
}

// pulped is the bar with 4 % of pulp.
func pulped() *engine.Recipe {
	r := bar()
	r.Doses = []engine.Dose{{ID: "plum", Additive: "pulp", OfFatsPct: engine.Some(4), Parameters: map[string]float64{"acid_pct": 2}}}
	return r
}

// What an owner answers reaches water, alkali, interval, volume and behavior.
func TestOwnedAdditive(t *testing.T) {
	a := pulp()
	f := with(t, a, pulped())
	plain := formulate(t, bar())
	acid := 40 * 0.02 / 64
	for name, x := range map[string][2]float64{
		"alkali added, mol":      {float64(f.Alkali.TotalMol), float64(plain.Alkali.TotalMol) + acid},
		"superfat":               {float64(f.Superfat.Pct), 5},
		"water brought":          {float64(f.Water.BroughtG), 32},
		"water bound":            {float64(f.Water.BoundG), 4},
		"water requested":        {float64(f.Water.RequestedG), 20},
		"water granted":          {float64(f.Water.GrantedG), 0},
		"water formed":           {float64(f.Water.FormedG), acid * 18.015},
		"plain water":            {float64(f.Water.PlainG), float64(f.Water.AskedG) - 32},
		"trace factor":           {f.Behavior.TraceTimeFactor, 0.8},
		"heat":                   {f.Behavior.AdditiveHeatJ, 480},
		"acids":                  {float64(f.Alkali.AcidsMol), acid},
		"batter":                 {float64(f.Totals.BatterG), 1000 + float64(f.Water.PlainG) + float64(f.Alkali.NaOHG) + 40},
		"batch strength follows": {float64(f.Water.BatchStrengthPct), 100 * float64(f.Alkali.NaOHG) / float64(f.Alkali.NaOHG+f.Water.FreeG)},
	} {
		if !near(x[0], x[1], 1e-9) {
			t.Errorf("%s: %.12g, want %.12g", name, x[0], x[1])
		}
	}
	// The upper bound, two more times the acid, is absorbed at most: it widens
	// the superfat upward only.
	low := pulp()
	certain := low.adjust
	low.adjust = func(q *engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
		out, err := certain(q)
		out.Adjustments[0].AlkaliHighMolPerG = 0
		return out, err
	}
	g := with(t, low, pulped())
	if !near(float64(f.Superfat.LowPct), float64(g.Superfat.LowPct), 1e-9) || f.Superfat.HighPct < g.Superfat.HighPct+0.3 {
		t.Errorf("with an upper bound %v, without %v", f.Superfat, g.Superfat)
	}
	if len(f.Behavior.TraceTime) != 1 || f.Behavior.TraceTime[0].LineID != "plum" || f.Behavior.Firmness[0].Typical != 0.95 {
		t.Errorf("factors: %+v", f.Behavior)
	}
	if len(f.Origin.Plugins) != 1 || f.Origin.Plugins[0].Name != "fruit" {
		t.Errorf("origin: %+v", f.Origin)
	}
}

// The question goes out once, with shares and defaults and no gram of the batch.
func TestAdjustIsAskedOnceWithoutGrams(t *testing.T) {
	small, large := pulp(), pulp()
	r := pulped()
	r.Doses = append(r.Doses, engine.Dose{ID: "plain-pulp", Additive: "pulp", OfFatsPct: engine.Some(1)})
	with(t, small, r, scales(0.1)...)
	if len(small.asked) != 1 || len(small.asked[0].Doses) != 2 {
		t.Fatalf("asked %d times: %+v", len(small.asked), small.asked)
	}
	with(t, large, scaled(r, 7), scales(0.1)...)
	if !reflect.DeepEqual(small.asked, large.asked) {
		t.Errorf("the question depends on the size of the batch:\n%+v\n%+v", small.asked, large.asked)
	}
	q := small.asked[0]
	if q.Doses[0].OfFatsPct != 4 || q.Doses[0].Parameters["acid_pct"] != 2 || q.Doses[1].Parameters["acid_pct"] != 1 {
		t.Errorf("doses of the question: %+v", q.Doses)
	}
	if q.FatPct["olive-oil"] != 70 || q.FatPct["coconut-oil"] != 30 || len(q.FatPct) != 2 {
		t.Errorf("fats of the question: %+v", q.FatPct)
	}
}

// No owned additive: nobody is asked.
func TestNobodyIsAskedForNothing(t *testing.T) {
	a := pulp()
	with(t, a, bar())
	if len(a.asked)+len(a.reviewed) != 0 {
		t.Errorf("asked %d, reviewed %d", len(a.asked), len(a.reviewed))
	}
}

// A review adds findings, in their place by harm, and moves nothing else.
func TestReviewFindingsAreAdded(t *testing.T) {
	a := pulp()
	a.review = func(b *engine.ReviewBatch) (*engine.ReviewAnswer, error) {
		if b.Formulation.Totals.BatterG == 0 || len(b.Doses) != 1 || b.Doses[0].ID != "plum" {
			t.Errorf("reviewed before it was settled: %+v", b.Doses)
		}
		b.Formulation.Superfat.Pct = 99
		b.Formulation.WeighOut[0].WeighG = 99999
		b.Formulation.Portions[0].Superfat.Pct = 99
		return &engine.ReviewAnswer{Findings: []engine.Finding{{Code: "fruit/note", Severity: engine.Note}, {Code: "fruit/danger", Severity: engine.Danger}}}, nil
	}
	f := with(t, a, pulped())
	if f.Superfat.Pct > 6 || f.Portions[0].Superfat.Pct > 6 || f.WeighOut[0].WeighG > 9999 {
		t.Errorf("a review moved figures: %v, %v, %v", f.Superfat.Pct, f.Portions[0].Superfat.Pct, f.WeighOut[0])
	}
	if len(a.reviewed) != 1 || f.Findings[0].Code != "fruit/danger" || found(f, "fruit/note") == nil || found(f, "engine/water-requested") == nil {
		t.Errorf("findings: %+v", f.Findings)
	}
	if !ordered(f.Findings) {
		t.Errorf("out of order: %+v", f.Findings)
	}
}

// Requested water comes only when the recipe grants it: into the jug for the
// whole batch, into its own cup for a portion, and onto the weigh-out.
func TestGrantedWater(t *testing.T) {
	for _, portion := range []string{"", "p"} {
		for _, balances := range [][]engine.Balance{nil, scales(1), scales(0.7)} {
			r := pulped()
			r.Water.GrantRequests = true
			r.Portions = []engine.Portion{{ID: "p", BaseSharePct: 37}, {ID: "q", BaseSharePct: 63}}
			r.Doses[0].PortionID = portion
			f := with(t, pulp(), r, balances...)
			if found(f, "engine/water-requested") != nil {
				t.Error("granted, and asked for again")
			}
			sum := 0.0
			for _, l := range f.WeighOut {
				sum += float64(l.WeighG)
			}
			if !near(sum, float64(f.Totals.BatterG), 1e-9) {
				t.Errorf("portion %q, balances %v: the lines weigh %.9g g, the batter %.9g g", portion, balances, sum, f.Totals.BatterG)
			}
			plain := formulate(t, bar())
			if len(balances) == 0 && portion == "" && !near(float64(f.Water.GrantedG), float64(f.Water.RequestedG), 1e-9) {
				t.Errorf("granted %g of %g g", f.Water.GrantedG, f.Water.RequestedG)
			}
			if f.Water.GrantedG <= 0 || f.Water.TotalG <= plain.Water.TotalG {
				t.Errorf("nothing was granted: %+v", f.Water)
			}
		}
	}
}

// An owner that fails, keeps silent or answers nonsense ends the call: a figure
// nobody stands for must not reach a weight of lye.
func TestBadOwners(t *testing.T) {
	broken := errors.New("broken")
	one := func(change func(*engine.Adjustment)) answer {
		return func(*engine.AdjustQuestion) (*engine.AdjustAnswer, error) {
			a := engine.Adjustment{DoseID: "plum", DensityGPerML: 1}
			change(&a)
			return &engine.AdjustAnswer{Adjustments: []engine.Adjustment{a}}, nil
		}
	}
	for name, adjust := range map[string]answer{
		"fails":            func(*engine.AdjustQuestion) (*engine.AdjustAnswer, error) { return nil, broken },
		"silent":           func(*engine.AdjustQuestion) (*engine.AdjustAnswer, error) { return &engine.AdjustAnswer{}, nil },
		"another dose":     one(func(a *engine.Adjustment) { a.DoseID = "prune" }),
		"unknown fat":      one(func(a *engine.Adjustment) { a.FatGPerG = []engine.FatShare{{Fat: "unobtainium", GPerG: 0.1}} }),
		"alkali is NaN":    one(func(a *engine.Adjustment) { a.AlkaliMolPerG = math.NaN() }),
		"water is NaN":     one(func(a *engine.Adjustment) { a.WaterGPerG = math.NaN() }),
		"bound is Inf":     one(func(a *engine.Adjustment) { a.BoundWaterGPerG = math.Inf(1) }),
		"requested is NaN": one(func(a *engine.Adjustment) { a.RequestedWaterGPerG = math.NaN() }),
		"negative water":   one(func(a *engine.Adjustment) { a.WaterGPerG = -1 }),
		"negative alkali":  one(func(a *engine.Adjustment) { a.AlkaliMolPerG = -0.01 }),
		"fat is NaN":       one(func(a *engine.Adjustment) { a.FatGPerG = []engine.FatShare{{Fat: "olive-oil", GPerG: math.NaN()}} }),
		"negative fat":     one(func(a *engine.Adjustment) { a.FatGPerG = []engine.FatShare{{Fat: "olive-oil", GPerG: -0.5}} }),
		"density is NaN":   one(func(a *engine.Adjustment) { a.DensityGPerML = engine.Formulation{}.Totals.Density / 0 }),
		"heat is Inf":      one(func(a *engine.Adjustment) { a.HeatJPerG = math.Inf(1) }),
		"trace is NaN":     one(func(a *engine.Adjustment) { a.TraceTime = engine.Band{Low: 1, Typical: math.NaN(), High: 1} }),
	} {
		t.Run(name, func(t *testing.T) {
			a := pulp()
			a.adjust = adjust
			f, err := engine.New(a).Formulate(context.Background(), pulped(), engine.Options{})
			if err == nil {
				t.Fatalf("answered with %g g of NaOH", f.Alkali.NaOHG)
			}
			if name == "fails" && !errors.Is(err, broken) {
				t.Errorf("the owner's error is lost: %v", err)
			}
			if name != "fails" && !strings.Contains(err.Error(), "pulp") {
				t.Errorf("the error does not name the additive: %v", err)
			}
		})
	}
	a := pulp()
	a.review = func(*engine.ReviewBatch) (*engine.ReviewAnswer, error) { return nil, broken }
	if _, err := engine.New(a).Formulate(context.Background(), pulped(), engine.Options{}); !errors.Is(err, broken) {
		t.Errorf("a failed review is passed over: %v", err)
	}
}

// Nobody owns the additive: refused by name, with and without any rules at hand.
func TestMissingOwner(t *testing.T) {
	for _, a := range []engine.Additives{nil, &rules{}} {
		_, err := engine.New(a).Formulate(context.Background(), pulped(), engine.Options{})
		var missing *engine.MissingOwner
		if !errors.As(err, &missing) || missing.Additive != "pulp" || missing.DoseID != "plum" {
			t.Errorf("got %v", err)
		} else if !strings.Contains(missing.Error(), "custom") {
			t.Errorf("no way out in %q", missing.Error())
		}
	}
}

// With given alkali, and in a portion, an owned additive absorbs.
func TestOwnedAdditiveAbsorbs(t *testing.T) {
	r := pulped()
	r.Alkali = given(130).Alkali
	if f := with(t, pulp(), r); f.Doses[0].AlkaliAdded || f.Alkali.NaOHG != 130 {
		t.Errorf("given alkali moved: %+v", f.Alkali)
	}
	r = pulped()
	r.Portions = []engine.Portion{{ID: "p", BaseSharePct: 50}, {ID: "q", BaseSharePct: 50}}
	r.Doses[0].PortionID = "p"
	f := with(t, pulp(), r)
	if f.Doses[0].AlkaliAdded || !near(float64(f.Alkali.TotalMol), float64(formulate(t, bar()).Alkali.TotalMol), 1e-12) {
		t.Errorf("alkali was added for one portion: %+v", f.Alkali)
	}
	if f.Superfat.PortionID != "q" || !near(float64(f.Superfat.Pct), 5, 1e-9) || f.Portions[0].Superfat.Pct <= 5 {
		t.Errorf("portions: %v and %v", f.Portions[0].Superfat, f.Portions[1].Superfat)
	}
}

// A teaspoon weighs what its owner says.
func TestOwnedSpoons(t *testing.T) {
	r := pulped()
	r.Doses[0].OfFatsPct = engine.Optional{}
	r.Doses[0].Spoons = &engine.Spoons{TeaspoonsUS: 2, PerFats: engine.Quantity{Value: 500, Unit: engine.Gram}}
	f := with(t, pulp(), r)
	if g := grams(f, "plum"); !near(g, 20, 1e-12) || !near(f.WeighOut[len(f.WeighOut)-1].TeaspoonsUS, 4, 1e-12) {
		t.Errorf("two teaspoons of 5 g for each 500 g of 1000 g fats came to %g g", g)
	}
	if found(f, "engine/measured-by-spoon") == nil {
		t.Error("spoons without a word")
	}
}
