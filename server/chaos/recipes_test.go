//go:build chaos

package chaos_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

// question is one call, put to any service.
type question struct {
	call    string
	request proto.Message
	partial bool // an answer without some plugins is allowed
	put     func(context.Context, app.Service) (proto.Message, error)
}

func asking[Q, A proto.Message](call string, q Q, partial bool, put func(app.Service, context.Context, Q) (A, error)) question {
	return question{call, q, partial, func(ctx context.Context, s app.Service) (proto.Message, error) { return put(s, ctx, q) }}
}

// distinct is how many questions come again and again.
const distinct = 300

// asker makes questions; the n-th is the same in every run with its seed.
type asker struct {
	seed      uint64
	additives []engine.AdditiveInfo
}

var fats = []string{"olive-oil", "coconut-oil", "lard", "shea-butter", "castor-oil", "canola-oil", "cocoa-butter", "avocado-oil", "babassu-oil", "beeswax"}

// ask gives the n-th question. Every other one comes again, so that some answers
// are remembered and others are not.
func (a *asker) ask(n int) question {
	if n%2 == 0 {
		n = n / 2 % distinct * 2
	}
	r := rand.New(rand.NewPCG(a.seed, uint64(n)))
	recipe := a.recipe(r)
	balances := []*lixiviumv1.Balance{{Step: grams(1)}, {Step: grams(0.1), Capacity: grams(500)}}
	partial := r.IntN(3) == 0
	switch r.IntN(12) {
	case 0, 1, 2, 3, 4:
		return asking("Formulate", &lixiviumv1.FormulateRequest{Recipe: recipe, Balances: balances[:r.IntN(3)], AllowIncomplete: partial, IncludeWorksheet: r.IntN(8) == 0}, partial, app.Service.Formulate)
	case 5, 6, 7:
		fit := &lixiviumv1.Fit{Target: &lixiviumv1.Fit_Batter{Batter: grams(500 + math.Round(r.Float64()*4000))}}
		if r.IntN(2) == 0 {
			fit.Target = &lixiviumv1.Fit_Molds{Molds: &lixiviumv1.Molds{Molds: []*lixiviumv1.Mold{{Name: "loaf", Count: 1 + uint32(r.IntN(3)),
				Shape: &lixiviumv1.Mold_Box{Box: &lixiviumv1.Box{LengthMm: 250, WidthMm: 80, HeightMm: 60 + float64(r.IntN(30))}}}}}}
		}
		return asking("Scale", &lixiviumv1.ScaleRequest{Recipe: recipe, Fit: fit, Balances: balances}, false, app.Service.Scale)
	case 8:
		with := []*lixiviumv1.FatLine{{Id: "instead", Kind: &lixiviumv1.FatLine_Fat{Fat: fats[r.IntN(len(fats))]}}}
		return asking("SwapFat", &lixiviumv1.SwapFatRequest{Recipe: recipe, LineId: "fat-0", Replacements: with}, false, app.Service.SwapFat)
	case 9:
		actual := []*lixiviumv1.ActualWeight{{LineId: "fat-0", Mass: grams(200 + math.Round(r.Float64()*600))}}
		return asking("ReconcileWeights", &lixiviumv1.ReconcileWeightsRequest{Recipe: recipe, Balances: balances, Actual: actual}, false, app.Service.ReconcileWeights)
	case 10:
		return asking("Cost", costed(recipe, balances), false, app.Service.Cost)
	}
	if r.IntN(2) == 0 {
		return asking("ListFats", &lixiviumv1.ListFatsRequest{NameContains: fats[r.IntN(len(fats))][:3]}, false, app.Service.ListFats)
	}
	return asking("GetVersions", &lixiviumv1.GetVersionsRequest{}, false, app.Service.GetVersions)
}

// recipe has some fats, and doses of any of the plugins. One in twenty is wrong.
func (a *asker) recipe(r *rand.Rand) *lixiviumv1.Recipe {
	q := &lixiviumv1.Recipe{
		Name:   "bar",
		Alkali: &lixiviumv1.Alkali{Amount: &lixiviumv1.Alkali_SuperfatPct{SuperfatPct: 2 + float64(r.IntN(7))}},
		Water: &lixiviumv1.Water{Ask: &lixiviumv1.Water_Measure{Measure: &lixiviumv1.WaterMeasure{
			Measure: &lixiviumv1.WaterMeasure_LyeConcentrationPct{LyeConcentrationPct: 27 + float64(r.IntN(9))}}}},
	}
	if r.IntN(6) == 0 {
		q.Alkali.KohShare = &lixiviumv1.Alkali_KohOfMolesPct{KohOfMolesPct: float64(5 * r.IntN(20))}
	}
	for i, f := range r.Perm(len(fats))[:2+r.IntN(4)] {
		q.Fats = append(q.Fats, &lixiviumv1.FatLine{
			Id: fmt.Sprint("fat-", i), Kind: &lixiviumv1.FatLine_Fat{Fat: fats[f]},
			Amount: &lixiviumv1.FatLine_Mass{Mass: grams(math.Round(100 + 600*r.Float64()))},
		})
	}
	if r.IntN(4) == 0 {
		q.Portions = []*lixiviumv1.Portion{{Id: "light", ShareOfBasePct: 60}, {Id: "dark", ShareOfBasePct: 40}}
	}
	for i, n := range r.Perm(len(a.additives))[:r.IntN(4)] {
		q.Doses = append(q.Doses, a.dose(r, q, i, a.additives[n]))
	}
	if r.IntN(3) == 0 { // oftener than chance would have it
		q.Doses = append(q.Doses, a.dose(r, q, 9, a.additive("hostile-powder")))
	}
	switch r.IntN(40) {
	case 0:
		q.Fats[0].Kind = &lixiviumv1.FatLine_Fat{Fat: "olif-oil"}
	case 1:
		q.Water.Ask = &lixiviumv1.Water_Measure{Measure: &lixiviumv1.WaterMeasure{Measure: &lixiviumv1.WaterMeasure_LyeConcentrationPct{LyeConcentrationPct: 69}}}
	}
	return q
}

// large is a question of nearly the largest size, worksheet included.
func (a *asker) large() question {
	recipe := a.recipe(rand.New(rand.NewPCG(a.seed, 1)))
	for i := range 900 {
		recipe.Fats = append(recipe.Fats, &lixiviumv1.FatLine{
			Id: fmt.Sprint("more-", i), Kind: &lixiviumv1.FatLine_Fat{Fat: fats[i%len(fats)]},
			Amount: &lixiviumv1.FatLine_Mass{Mass: grams(100 + float64(i))},
		})
	}
	return asking("Formulate, large", &lixiviumv1.FormulateRequest{Recipe: recipe, IncludeWorksheet: true}, false, app.Service.Formulate)
}

func (a *asker) dose(r *rand.Rand, q *lixiviumv1.Recipe, i int, info engine.AdditiveInfo) *lixiviumv1.Dose {
	pct := info.LowOfFatsPct + r.Float64()*(info.HighOfFatsPct-info.LowOfFatsPct)
	d := &lixiviumv1.Dose{
		Id: fmt.Sprint("dose-", i), Kind: &lixiviumv1.Dose_Additive{Additive: info.ID},
		Amount: &lixiviumv1.Dose_OfFatsPct{OfFatsPct: math.Max(0.05, math.Round(pct*100)/100)},
	}
	if len(q.Portions) > 0 && info.UsualStage == engine.StageTrace && r.IntN(2) == 0 {
		d.PortionId = q.Portions[r.IntN(2)].Id
	}
	for _, p := range info.Parameters {
		if r.IntN(4) == 0 {
			d.Parameters = map[string]float64{p.Name: p.Max}
		}
	}
	return d
}

func (a *asker) additive(id string) engine.AdditiveInfo {
	for _, info := range a.additives {
		if info.ID == id {
			return info
		}
	}
	panic("nobody owns " + id)
}

// costed prices every fat, the alkali, and some of the doses.
func costed(recipe *lixiviumv1.Recipe, balances []*lixiviumv1.Balance) *lixiviumv1.CostRequest {
	pack := func(material, price string) *lixiviumv1.Pack {
		return &lixiviumv1.Pack{Material: material, Size: grams(1000), Price: price}
	}
	q := &lixiviumv1.CostRequest{
		AllowPartial: true,
		Prices:       &lixiviumv1.PriceBook{CurrencyCode: "EUR", Packs: []*lixiviumv1.Pack{pack("naoh", "8.40"), pack("koh", "9.10"), pack("kaolin", "6")}},
		Recipes: []*lixiviumv1.CostedRecipe{{Recipe: recipe, Balances: balances,
			Terms: &lixiviumv1.CostTerms{SaleableBars: 10, Pricing: &lixiviumv1.CostTerms_MarginPct{MarginPct: 40}}}},
	}
	for i, f := range fats {
		q.Prices.Packs = append(q.Prices.Packs, pack(f, fmt.Sprintf("%d.35", 4+3*i)))
	}
	return q
}

func grams(v float64) *lixiviumv1.Quantity {
	return &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: v}}
}
