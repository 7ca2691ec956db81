package sheet

import (
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Swap writes what changes when a fat is replaced, with the costs before and
// after when they were asked for. The sheet to weigh out by follows it.
func Swap(s *lixiviumv1.SwapFatResponse, what string, costs []*lixiviumv1.Costing, o Options) string {
	p := &page{}
	p.title(o.title() + ", a fat replaced")
	p.wrap("", "  ", what)
	if s.GetRecipe().GetAlkali().GetGiven() != nil {
		p.wrap("", "  ", "The alkali of this recipe is given, so it stays as it is and the recipe is judged; with superfat_pct in place of given it would be worked out anew.")
	}
	cells := [][]string{{"before", "after", "figure"}}
	for _, c := range s.GetChanges() {
		before, after := changed(c.GetBefore(), c.GetUnit()), changed(c.GetAfter(), c.GetUnit())
		if before != after { // a change that no one can see is none
			cells = append(cells, []string{before, after, figureName(c.GetName())})
		}
	}
	if len(costs) == 2 {
		for _, c := range []struct{ before, after, figure string }{
			{costs[0].GetPerBatch(), costs[1].GetPerBatch(), "cost of the batch"},
			{costs[0].GetPerBar(), costs[1].GetPerBar(), "cost of a bar"},
			{costs[0].GetPriceBeforeTax(), costs[1].GetPriceBeforeTax(), "price of a bar before tax"},
		} {
			if c.before != "" {
				cells = append(cells, []string{c.before + " " + costs[0].GetCurrencyCode(), c.after + " " + costs[1].GetCurrencyCode(), c.figure})
			}
		}
	}
	if len(cells) > 1 {
		p.heading("WHAT CHANGES")
		p.table(cells)
	} else {
		p.wrap("", "  ", "No figure changes.")
	}
	if list := s.GetNewFindings(); len(list) > 0 {
		p.wrap("", "  ", "New findings: "+strings.Join(list, ", ")+".")
	}
	if list := s.GetGoneFindings(); len(list) > 0 {
		p.wrap("", "  ", "Findings gone: "+strings.Join(list, ", ")+".")
	}
	p.blank()
	return p.String()
}

// changed writes a figure with no more decimals than a comparison needs.
func changed(v float64, unit string) string {
	switch unit {
	case "min", "g/100 g":
		return decimal(v, 1) + " " + unit
	}
	return quantityWords(v, unit)
}

// figureNames are the figures that a name in words makes clearer.
var figureNames = map[string]string{
	"superfat_pct": "superfat", "low95_pct": "superfat, low end of 19 in 20", "lye_excess_probability_pct": "chance of alkali left over",
	"naoh_g": "sodium hydroxide", "koh_g": "potassium hydroxide", "water_g": "water", "batter_g": "batter",
	"batch_strength_pct": "strength of the batch", "iodine_value": "iodine value", "known_of_fats_pct": "fats of known fatty acids",
	"thin_trace_minutes": "thin trace, an estimate", "medium_trace_minutes": "medium trace, an estimate",
	"additive_trace_time_factor": "factor of the additives on the time to trace",
}

func figureName(name string) string {
	if words := figureNames[name]; words != "" {
		return words
	}
	return strings.ReplaceAll(name, "_", " ")
}
