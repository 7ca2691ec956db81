package sheet

import (
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Swap writes what changes when a fat is replaced. The sheet to weigh out by
// follows it.
func Swap(s *lixiviumv1.SwapFatResponse, what string, o Options) string {
	p := &page{}
	p.title(o.title() + ", a fat replaced")
	p.wrap("", "  ", what)
	if len(s.GetChanges()) == 0 {
		p.wrap("", "  ", "No figure changes.")
	} else {
		p.heading("WHAT CHANGES")
		cells := [][]string{{"before", "after", "figure"}}
		for _, c := range s.GetChanges() {
			cells = append(cells, []string{quantityWords(c.GetBefore(), c.GetUnit()), quantityWords(c.GetAfter(), c.GetUnit()), figureName(c.GetName())})
		}
		p.table(cells)
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
