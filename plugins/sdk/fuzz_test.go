package sdk_test

import (
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk"
	"lixivium.example/plugins/sugars"
	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	"lixivium.example/proto/mutate"
)

// Requests as a plugin reads them. A panic in a rule ends its process, so no
// bytes may cause one; and where a question is one that a host can ask, the
// answer keeps the contract.

var fuzzed = []*sdk.Plugin{acids.Plugin(), clays.Plugin(), lactate.Plugin(), pigments.Plugin(), sugars.Plugin(), OatMilk()}

// words mean something in a request to a plugin.
var words = func() []string {
	all := []string{"d", "e", "light", "trace", "fats", "cooled-lye", "water-before-lye", "surface", "water", "other", "olive-oil", "avoid", "leave", "force", "C18:1"}
	for _, p := range fuzzed {
		all = append(all, p.WatchesFats...)
		for i := range p.Owns {
			all = append(all, p.Owns[i].ID)
			for _, q := range p.Owns[i].Parameters {
				all = append(all, q.Name)
			}
		}
	}
	return all
}()

// usual are a plugin's additives, each at its usual dose, with the defaults.
func usual(p *sdk.Plugin) []*additivev1.DoseView {
	var all []*additivev1.DoseView
	for i := range p.Owns {
		a := &p.Owns[i]
		d := &additivev1.DoseView{
			Id: a.ID, Additive: a.ID, OfFatsPct: a.HighOfFatsPct, OfPortionFatsPct: 2 * a.HighOfFatsPct,
			Stage: string(a.UsualStage), PortionId: "light", Parameters: map[string]float64{},
		}
		for _, q := range a.Parameters {
			d.Parameters[q.Name] = q.Default
		}
		all = append(all, d)
	}
	return all
}

// add gives the fuzzer a request, as it is and with a tape.
func add(f *testing.F, plugin int, m proto.Message) {
	bytes, err := proto.Marshal(m)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(plugin, bytes, []byte{})
	f.Add(plugin, bytes, []byte("0123456789abcdefghijklmnopqrstuvwxyz"))
}

// read makes a request of what the fuzzer gives.
func read(m proto.Message, bytes, tape []byte) bool {
	if len(bytes) > 16<<10 || proto.Unmarshal(bytes, m) != nil {
		return false
	}
	mutate.Apply(m, tape, words)
	return true
}

func of(plugin int) *sdk.Plugin { return fuzzed[uint(plugin)%uint(len(fuzzed))] }

func FuzzDescribeRequest(f *testing.F) {
	add(f, 0, &additivev1.DescribeRequest{})
	f.Fuzz(func(t *testing.T, plugin int, bytes, tape []byte) {
		m := &additivev1.DescribeRequest{}
		if !read(m, bytes, tape) {
			return
		}
		a, err := sdk.NewService(of(plugin)).Describe(t.Context(), m)
		if err != nil || a.GetName() != of(plugin).Name {
			t.Errorf("%v, %v", a, err)
		}
	})
}

func FuzzAdjustRequest(f *testing.F) {
	for i, p := range fuzzed {
		m := &additivev1.AdjustRequest{Doses: usual(p), WatchedFatPct: map[string]float64{}, Conditions: &additivev1.Conditions{FatsC: new(40.0), GelIntent: "force"}}
		for _, fat := range p.WatchesFats {
			m.WatchedFatPct[fat] = 20
		}
		add(f, i, m)
	}
	f.Fuzz(func(t *testing.T, plugin int, bytes, tape []byte) {
		m, p := &additivev1.AdjustRequest{}, of(plugin)
		if !read(m, bytes, tape) {
			return
		}
		q := sdk.ReadQuestion(m)
		switch _, err := sdk.NewService(p).Adjust(t.Context(), m); {
		case err != nil && owns(p, &q):
			t.Error(err)
		case err == nil && !owns(p, &q):
			t.Error("it answers for an additive of another")
		case err != nil || !askable(p, &q):
			return
		}
		if err := sdk.CheckAnswer(p, p.Wants, q, p.Adjust(t.Context(), q)); err != nil {
			t.Errorf("%v\nto %+v", err, q)
		}
	})
}

func FuzzReviewRequest(f *testing.F) {
	for i, p := range fuzzed {
		add(f, i, &additivev1.ReviewRequest{Batch: &additivev1.Batch{
			FatsG: 1000, FatG: map[string]float64{"olive-oil": 700, "coconut-oil": 300}, NaohG: 140, SuperfatPct: 5, TotalWaterG: 290, FreeWaterG: 280,
			JugStrengthPct: 33, TraceTimeFactor: 1, AdditiveHeatJ: 100, FattyAcidPct: map[string]float64{"C18:1": 50}, Doses: usual(p),
			Portions: []*additivev1.PortionView{{Id: "light", BatterG: 700, FreeWaterG: 140, BatchStrengthPct: 33}, {Id: "dark", BatterG: 700, FreeWaterG: 140, BatchStrengthPct: 33}},
		}})
	}
	f.Fuzz(func(t *testing.T, plugin int, bytes, tape []byte) {
		m, p := &additivev1.ReviewRequest{}, of(plugin)
		if !read(m, bytes, tape) {
			return
		}
		if _, err := sdk.NewService(p).Review(t.Context(), m); err != nil {
			t.Error(err)
		}
		b := sdk.ReadBatch(m.GetBatch())
		if p.Review == nil || !settled(p, &b) {
			return
		}
		if err := sdk.CheckFindings(p, p.Wants, p.Review(t.Context(), b)); err != nil {
			t.Errorf("%v\nin %+v", err, b)
		}
	})
}

func owns(p *sdk.Plugin, q *sdk.Question) bool {
	return !slices.ContainsFunc(q.Doses, func(d sdk.Dose) bool {
		return !slices.ContainsFunc(p.Owns, func(a sdk.Additive) bool { return a.ID == d.Additive })
	})
}

// askable tells whether a host can ask this: the engine has checked the recipe.
func askable(p *sdk.Plugin, q *sdk.Question) bool {
	for fat, pct := range q.FatPct {
		if !slices.Contains(p.WatchesFats, fat) || !inside(pct, 0, 100) {
			return false
		}
	}
	seen := map[string]bool{}
	for i := range q.Doses {
		d := &q.Doses[i]
		at := slices.IndexFunc(p.Owns, func(a sdk.Additive) bool { return a.ID == d.Additive })
		if at < 0 || d.ID == "" || seen[d.ID] || !dosable(d) || len(d.Parameters) != len(p.Owns[at].Parameters) {
			return false
		}
		seen[d.ID] = true
		for _, x := range p.Owns[at].Parameters {
			if v, ok := d.Parameters[x.Name]; !ok || !inside(v, x.Min, x.Max) {
				return false
			}
		}
	}
	return conditioned(&q.Conditions)
}

// settled tells whether a batch can look like this.
func settled(p *sdk.Plugin, b *sdk.Batch) bool {
	for _, v := range []float64{b.FatsG, b.NaOHG, b.KOHG, b.TotalWaterG, b.FreeWaterG} {
		if !inside(v, 0, 1e8) {
			return false
		}
	}
	for i := range b.Doses {
		if !dosable(&b.Doses[i]) || b.Doses[i].ID == "" {
			return false
		}
		if slices.ContainsFunc(b.Doses[:i], func(d sdk.Dose) bool { return d.ID == b.Doses[i].ID }) {
			return false
		}
		for _, v := range b.Doses[i].Parameters {
			if !inside(v, -1e9, 1e9) {
				return false
			}
		}
	}
	for _, x := range b.Portions {
		if !inside(x.BatterG, 0, 1e8) || !inside(x.FreeWaterG, 0, 1e8) || !inside(x.BatchStrengthPct, 0, 100) {
			return false
		}
	}
	for _, parts := range []map[string]float64{b.FatG, b.FattyAcidPct} {
		for _, v := range parts {
			if !inside(v, 0, 1e8) {
				return false
			}
		}
	}
	return inside(b.SuperfatPct, -1e6, 100) && inside(b.JugStrengthPct, 0, 100) && inside(b.TraceTimeFactor, 0, 1e6) &&
		inside(b.AdditiveHeatJ, -1e12, 1e12) && conditioned(&b.Conditions)
}

// dosable tells whether a dose has shares that a recipe can have: of a tiny
// portion it may be many times its fats.
func dosable(d *sdk.Dose) bool {
	return inside(d.OfFatsPct, 0, 200) && inside(d.OfPortionFatsPct, 0, 1e9) && inside(d.CarrierGPerG, 0, 100) &&
		slices.Contains([]sdk.Stage{sdk.StageWaterBeforeLye, sdk.StageCooledLye, sdk.StageFats, sdk.StageTrace, sdk.StageSurface}, d.Stage)
}

func conditioned(c *sdk.Conditions) bool {
	for _, v := range []*float64{c.FatsC, c.LyeC, c.RoomC} {
		if v != nil && !inside(*v, -10, 110) {
			return false
		}
	}
	return inside(c.KOHOfMolesPct, 0, 100) && slices.Contains([]sdk.GelIntent{sdk.GelNotSaid, sdk.GelAvoid, sdk.GelLeave, sdk.GelForce}, c.Gel)
}

// inside is false for what is not a number.
func inside(v, low, high float64) bool { return v >= low && v <= high }
