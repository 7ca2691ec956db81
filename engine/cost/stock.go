package cost

import (
	"strconv"

	"lixivium.example/engine"
)

// splitStock hands out the parts of a lye that the shop mixed, in proportion to
// what it was made of.
type splitStock struct {
	m    *materials
	of   item    // the weigh line
	all  float64 // g that were mixed
	line string  // worksheet line of that
	// What contents stated by percent of the stock took out of its water.
	offPct     float64
	offInputs  []engine.WorksheetInput
	offFormula string
}

// take hands out one part by its grams in the mixture.
func (s *splitStock) take(id, text, name string, g float64, line string) {
	it := s.of
	it.id += "/" + id
	it.text = text
	it.g = float64(s.of.g*g) / s.all
	it.mass = mass{expression: "stock * part / all", inputs: []engine.WorksheetInput{
		{Name: "stock", LineID: s.of.mass.line}, {Name: "part", LineID: line}, {Name: "all", LineID: s.line},
	}}
	s.m.add(it, name)
}

// content hands out something that the stock holds besides alkali and water.
func (s *splitStock) content(i int, c *engine.StockContent, base string) {
	n := strconv.Itoa(i + 1)
	pct, byShare := c.OfStockPct.Get()
	if !byShare {
		s.take("content-"+n, c.Name+" in "+s.of.text, c.Name, float64(c.Mass.Grams()), base+".made_content_"+n+"_g")
		return
	}
	share := engine.WorksheetInput{Name: "pct_" + n, Value: pct, Unit: "percent", RequestPath: "recipe." + base + ".also_holds[" + strconv.Itoa(i) + "].of_stock_pct"}
	s.offPct += pct
	s.offInputs = append(s.offInputs, share)
	s.offFormula += " - stock * pct_" + n + " / 100"
	it := s.of
	it.id += "/content-" + n
	it.text = c.Name + " in " + s.of.text
	it.g = float64(s.of.g*pct) / 100
	it.mass = mass{expression: "stock * pct_" + n + " / 100", inputs: []engine.WorksheetInput{{Name: "stock", LineID: s.of.mass.line}, share}}
	s.m.add(it, c.Name)
}

// water hands out the water; contents by percent of the stock stand in its mass.
func (s *splitStock) water(text string, g float64, line string) {
	it := s.of
	it.id += "/" + water
	it.text = text
	it.g = max(0, float64(s.of.g*g)/s.all-float64(s.of.g*s.offPct)/100)
	it.mass = mass{expression: "stock * part / all" + s.offFormula, inputs: append([]engine.WorksheetInput{
		{Name: "stock", LineID: s.of.mass.line}, {Name: "part", LineID: line}, {Name: "all", LineID: s.line},
	}, s.offInputs...)}
	s.m.add(it, water)
}
