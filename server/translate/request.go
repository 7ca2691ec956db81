package translate

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

// Request is what the engine is asked, as far as it could be read.
type Request struct {
	// Recipe is nil when the request holds none; then the engine cannot be asked.
	Recipe  *engine.Recipe
	Options engine.Options
	// Actual is what was weighed; for ReconcileWeights only.
	Actual []engine.ActualWeight
	// Fit is the size a recipe is brought to; for Scale only.
	Fit *engine.Fit
	// LineID and Replacements say which fat is replaced by which; for SwapFat only.
	LineID       string
	Replacements []engine.FatLine
	// Wrong is what only the wire can get wrong. Not empty: refuse, together
	// with what the engine says of the rest.
	Wrong []engine.Violation
}

// Formulate reads a request of Formulate.
func Formulate(m *lixiviumv1.FormulateRequest) Request {
	var r reader
	q := Request{Recipe: r.recipe(m.GetRecipe())}
	q.Options.Balances = r.balances(m.GetBalances())
	q.Options.AllowIncomplete = m.GetAllowIncomplete()
	q.Options.IncludeWorksheet = m.GetIncludeWorksheet()
	q.Wrong = r.wrong
	return q
}

// Scale reads a request of Scale.
func Scale(m *lixiviumv1.ScaleRequest) Request {
	var r reader
	q := Request{Recipe: r.recipe(m.GetRecipe())}
	q.Options.Balances = r.balances(m.GetBalances())
	q.Options.AllowIncomplete = m.GetAllowIncomplete()
	q.Options.IncludeWorksheet = m.GetIncludeWorksheet()
	q.Fit = r.fit(m.GetFit())
	q.Wrong = r.wrong
	return q
}

// SwapFat reads a request of SwapFat.
func SwapFat(m *lixiviumv1.SwapFatRequest) Request {
	var r reader
	q := Request{Recipe: r.recipe(m.GetRecipe()), LineID: m.GetLineId(), Replacements: fatLines(m.GetReplacements())}
	q.Options.Balances = r.balances(m.GetBalances())
	q.Wrong = r.wrong
	return q
}

// ReconcileWeights reads a request of ReconcileWeights.
func ReconcileWeights(m *lixiviumv1.ReconcileWeightsRequest) Request {
	var r reader
	q := Request{Recipe: r.recipe(m.GetRecipe())}
	q.Options.Balances = r.balances(m.GetBalances())
	q.Options.AllowIncomplete = m.GetAllowIncomplete()
	q.Options.IncludeWorksheet = m.GetIncludeWorksheet()
	for _, a := range m.GetActual() {
		q.Actual = append(q.Actual, engine.ActualWeight{LineID: a.GetLineId(), Mass: quantity(a.GetMass())})
	}
	q.Wrong = r.wrong
	return q
}
