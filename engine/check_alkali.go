package engine

import (
	"errors"
	"math"
	"strconv"

	"lixivium.example/engine/lye"
	"lixivium.example/engine/settle"
	"lixivium.example/engine/unit"
)

// Purities that are reckoned with when the maker states none, in percent. When
// a given recipe is judged the sodium hydroxide counts as pure: a default must
// never make a recipe look milder.
const (
	unstatedNaOHPct, unstatedNaOHHalf = 98, 2
	unstatedKOHPct, unstatedKOHHalf   = 90, 5
	judgedNaOHPct                     = 100
	statedNaOHHalf, statedKOHHalf     = 1, 2
)

var kindOf = [settle.Kinds]lye.Kind{lye.NaOH, lye.KOH}

var (
	alkaliName  = [settle.Kinds]string{"Sodium hydroxide", "Potassium hydroxide"}
	alkaliField = [settle.Kinds]string{"naoh", "koh"}
)

// alkali resolves which alkali, in which form, and what fixes its amount.
func (c *checker) alkali(r *Recipe, p *plan) {
	w := in("recipe.alkali")
	a := &r.Alkali
	p.given = a.Given != nil
	c.one(w, "State superfat_pct, or the alkali given. There is no default superfat.", a.SuperfatPct.Set(), p.given)
	if a.KOHOfMolesPct.Set() && a.KOHOfGramsPct.Set() {
		c.add(w, ReasonConflict, "The share of potassium hydroxide is stated twice. State it of the moles or of the grams.")
	}
	stocks := [settle.Kinds]*AlkaliStock{a.NaOH, a.KOH}
	for k, s := range stocks {
		c.stock(w.at(alkaliField[k]), k, s, p)
	}
	if p.given {
		c.given(w, a, p)
		return
	}
	if s, ok := a.SuperfatPct.Get(); ok {
		sw := w.at("superfat_pct")
		switch {
		case s < 0:
			c.add(sw, ReasonRange, "A superfat below zero asks for lye that stays in the bar and burns skin. Ask for 0 or more.")
		case c.within(sw, s, 0, 95, "%", "Superfat is the share of the fats that is left unsaponified, usually 2 to 8 %."):
			c.fraction(sw, s, 0.3)
		}
	}
	c.kohShare(w, a, p)
}

// kohShare turns the asked share of potassium hydroxide into a share of the mol.
func (c *checker) kohShare(w where, a *Alkali, p *plan) {
	share := func(field string, o Optional) (float64, bool) {
		v, ok := o.Get()
		return v / 100, ok && c.within(w.at(field), v, 0, 100, "%", "It is percent of the alkali.") && c.fraction(w.at(field), v, 1.5)
	}
	x := 0.0
	if v, ok := share("koh_of_moles_pct", a.KOHOfMolesPct); ok {
		x = v
	}
	if y, ok := share("koh_of_grams_pct", a.KOHOfGramsPct); ok {
		n, k := p.stockOf(settle.NaOH).GPerMol, p.stockOf(settle.KOH).GPerMol
		x = (y / k) / ((1-y)/n + y/k)
	}
	p.alkali[settle.NaOH].share, p.alkali[settle.KOH].share = 1-x, x
	for k := range p.alkali {
		p.alkali[k].used = p.alkali[k].share > 0
	}
}

// given takes alkali as weighed.
func (c *checker) given(w where, a *Alkali, p *plan) {
	if a.KOHOfMolesPct.Set() || a.KOHOfGramsPct.Set() {
		c.add(w, ReasonConflict, "With given alkali the shares follow from the weights. Leave the share of potassium hydroxide out.")
	}
	gw := w.at("given")
	quantities := [settle.Kinds]Quantity{a.Given.NaOH, a.Given.KOH}
	if !quantities[settle.NaOH].Given() && !quantities[settle.KOH].Given() {
		c.add(gw, ReasonRequired, "State the alkali as weighed: naoh, koh or both.")
	}
	for k, q := range quantities {
		if !q.Given() {
			continue
		}
		pa := &p.alkali[k]
		if q.IsVolume() {
			p.byVolume = append(p.byVolume, alkaliField[k])
		}
		g, ok := c.alkaliGrams(gw.at(alkaliField[k]), q, k, pa)
		if ok {
			pa.used = true
			pa.mol = g * pa.pure / kindOf[k].MolarMass()
		}
	}
}

// alkaliGrams takes the mass of an alkali, or the volume of a solution. Solid
// alkali by the spoon or cup is refused: its bulk density is anybody's guess.
func (c *checker) alkaliGrams(w where, q Quantity, k int, pa *planAlkali) (float64, bool) {
	if !q.Given() || !q.IsVolume() {
		return c.grams(w, q, "")
	}
	w = w.at(q.Unit.String())
	if !pa.solution {
		c.add(w, ReasonSolidByVolume, "Solid alkali is weighed, never measured by the spoon or the cup: a wrong weight burns skin. Weigh it in grams.")
		return 0, false
	}
	t, ok := pa.temperature()
	if !ok {
		c.add(w, ReasonRequired, "A volume of lye needs the temperature of the solution (temperature_c) to become grams. Better: weigh it.")
		return 0, false
	}
	rho, err := lye.Density(kindOf[k], unit.Percent(100*pa.pure), unit.Celsius(t))
	if err != nil {
		c.lyeError(w, err)
		return 0, false
	}
	g := float64(float64(q.Milliliters()) * float64(rho))
	return g, c.massRange(w, g)
}

// stock resolves the form of one alkali.
func (c *checker) stock(w where, k int, s *AlkaliStock, p *plan) {
	pa := &p.alkali[k]
	pa.name = alkaliName[k]
	pa.pure, pa.half = unstatedPurity(k, p.given)
	if s == nil {
		return
	}
	stated := [settle.Kinds]float64{statedNaOHHalf, statedKOHHalf}[k]
	forms := 0
	for _, set := range []bool{s.PurityPct.Set(), s.Solution != nil, s.Made != nil} {
		if set {
			forms++
		}
	}
	if forms > 1 {
		c.add(w, ReasonConflict, "State one form: purity_pct, solution or made.")
		return
	}
	switch {
	case s.PurityPct.Set():
		v, _ := s.PurityPct.Get()
		c.purity(w.at("purity_pct"), v)
		pa.pure, pa.half, pa.stated = v/100, stated/100, true
		pa.path = w.at("purity_pct").String()
	case s.Solution != nil:
		c.solution(w.at("solution"), k, s.Solution, pa)
		pa.half, pa.stated = max(pa.pure*stated/100, s.Solution.readingHalf(kindOf[k], pa.pure)), true
	case s.Made != nil:
		c.made(w.at("made"), k, s, pa, stated, p.given)
	}
	if h, ok := s.HalfWidthPct.Get(); ok {
		c.within(w.at("half_width_pct"), h, 0, 20, "percentage points", "It is how far the true strength may lie on either side.")
		pa.half = h / 100
	}
	c.contents(w, s, pa)
}

// unstatedPurity is the fraction reckoned with when none is stated.
func unstatedPurity(k int, judged bool) (pure, half float64) {
	switch {
	case k == settle.KOH:
		return unstatedKOHPct / 100.0, unstatedKOHHalf / 100.0
	case judged:
		return judgedNaOHPct / 100.0, 0
	}
	return unstatedNaOHPct / 100.0, unstatedNaOHHalf / 100.0
}

func (c *checker) purity(w where, v float64) {
	if v > 0 && v < 1.5 {
		c.fraction(w, v, 1.5)
		return
	}
	c.within(w, v, 50, 100, "%", "Purity is percent of pure hydroxide in the solid, as its label says.")
}

// solution resolves a strength; every form means pure hydroxide.
func (c *checker) solution(w where, k int, s *SolutionStrength, pa *planAlkali) {
	pa.solution, pa.path = true, w.String()
	pa.name += " solution"
	pa.pure, pa.water = 0.5, 0.5
	if !c.one(w, "State the strength as one of mass_pct, density_g_per_ml, mol_per_l, degrees_baume, degrees_twaddell.",
		s.MassPct.Set(), s.DensityGPerML.Set(), s.MolPerL.Set(), s.DegreesBaume.Set(), s.DegreesTwaddell.Set()) {
		return
	}
	if t, ok := s.TemperatureC.Get(); ok {
		c.within(w.at("temperature_c"), t, 0, 80, "°C", "It is the temperature at which the solution was measured.")
		pa.tempC = Some(t)
	}
	if v, ok := s.MassPct.Get(); ok {
		mw := w.at("mass_pct")
		if c.finite(mw, v) && c.fraction(mw, v, weakestLyePct) {
			c.strong(mw, v)
		}
		pa.set(v / 100)
		return
	}
	t, ok := s.TemperatureC.Get()
	if !ok {
		c.add(w.at("temperature_c"), ReasonRequired, "State the temperature of the reading: strength follows from it.")
		return
	}
	if s.DegreesBaume.Set() && !s.BaumeModulus.Set() {
		c.add(w.at("baume_modulus"), ReasonRequired, "State the modulus of the hydrometer: 145 (United States), 144.3 or 144. The same degrees mean different strengths.")
		return
	}
	strength, field, err := s.measured(kindOf[k], unit.Celsius(t))
	if err != nil {
		c.lyeError(w.at(field), err)
		return
	}
	if c.strong(w.at(field), float64(strength)) {
		pa.set(float64(strength) / 100)
	}
}

// Strengths between which a solution is a lye, percent.
const weakestLyePct, strongestLyePct = 1.5, 52

// strong refuses what is no lye.
func (c *checker) strong(w where, pct float64) bool {
	return c.within(w, rounding(pct), weakestLyePct, strongestLyePct, "%", "A lye holds at most about 52 % of hydroxide, and one for soap at least 1.5.")
}

// rounding takes the noise of a table look-up off a number that is shown.
func rounding(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// measured turns a reading into percent by mass.
func (s *SolutionStrength) measured(k lye.Kind, t unit.Celsius) (strength unit.Percent, field string, err error) {
	if v, ok := s.DensityGPerML.Get(); ok {
		strength, err = lye.StrengthFromDensity(k, unit.GramsPerML(v), t)
		return strength, "density_g_per_ml", err
	}
	if v, ok := s.MolPerL.Get(); ok {
		strength, err = lye.StrengthFromMolarity(k, v, t)
		return strength, "mol_per_l", err
	}
	if v, ok := s.DegreesBaume.Get(); ok {
		strength, err = lye.StrengthFromBaume(k, v, s.BaumeModulus.Or(0), t)
		return strength, "degrees_baume", err
	}
	v, _ := s.DegreesTwaddell.Get()
	strength, err = lye.StrengthFromTwaddell(k, v, t)
	return strength, "degrees_twaddell", err
}

// readingHalf is how far a strength, a fraction, that was read as a density may
// lie on either side: published densities part by lye.DensityHalfWidth. 0 for
// every other form, and where the strength is no lye.
func (s *SolutionStrength) readingHalf(k lye.Kind, strength float64) float64 {
	if !s.DensityGPerML.Set() && !s.DegreesBaume.Set() && !s.DegreesTwaddell.Set() {
		return 0
	}
	t, _ := s.TemperatureC.Get()
	at, err1 := lye.Density(k, unit.Percent(100*strength), unit.Celsius(t))
	weaker, err2 := lye.Density(k, unit.Percent(float64(100*strength)-1), unit.Celsius(t))
	if err1 != nil || err2 != nil || at <= weaker {
		return 0
	}
	return float64(lye.DensityHalfWidth(k)) / 100 * float64(at) / float64(at-weaker) / 100
}

// set takes a strength as a fraction; the rest is water.
func (pa *planAlkali) set(strength float64) { pa.pure, pa.water = strength, 1-strength }

// temperature is that of the reading, when stated.
func (pa *planAlkali) temperature() (float64, bool) { return pa.tempC.Get() }

// lyeError turns an error of the solution tables into a violation.
func (c *checker) lyeError(w where, err error) {
	reason := ReasonRange
	var re *lye.RangeError
	if !errors.As(err, &re) {
		reason = ReasonRequired
	}
	c.add(w, reason, sentence(upperFirst(err.Error())))
}

// made resolves a stock that the shop mixed from solid and water.
func (c *checker) made(w where, k int, s *AlkaliStock, pa *planAlkali, statedHalf float64, judged bool) {
	m := s.Made
	pa.solution, pa.path = true, w.String()
	pa.name += " solution"
	solid, ok1 := c.alkaliGrams(w.at("solid"), m.Solid, k, &planAlkali{})
	water, _, ok2 := c.gramsOrVolume(w.at("water"), m.Water, waterDensity)
	purity, half := unstatedPurity(k, judged)
	if v, ok := m.PurityPct.Get(); ok {
		c.purity(w.at("purity_pct"), v)
		purity, half, pa.stated = v/100, statedHalf/100, true
	}
	if !ok1 || !ok2 {
		return
	}
	all := solid + water
	for i := range s.AlsoHolds {
		all += float64(s.AlsoHolds[i].Mass.Grams())
	}
	pa.madeG = all
	pa.pure, pa.half = solid*purity/all, solid*half/all
	pa.water = water / all
	if k == settle.KOH {
		pa.water += solid * (1 - purity) / all // potash holds water of its own
	}
}

// contents counts what else a stock holds: in its mass, not as water.
func (c *checker) contents(w where, s *AlkaliStock, pa *planAlkali) {
	total := 0.0
	for i := range s.AlsoHolds {
		cw := element(w.at("also_holds").String(), i)
		x := &s.AlsoHolds[i]
		if !pa.solution {
			c.add(cw, ReasonConflict, "Only a solution holds something besides alkali and water. Write it as a dose.")
			continue
		}
		if x.Name == "" {
			c.add(cw.at("name"), ReasonRequired, "Name what the stock holds.")
		}
		if !c.one(cw, "State its mass or of_stock_pct.", x.Mass.Given(), x.OfStockPct.Set()) {
			continue
		}
		share := 0.0
		if v, ok := x.OfStockPct.Get(); ok {
			c.within(cw.at("of_stock_pct"), v, 0, 50, "%", "It is percent of the stock's mass.")
			share = v / 100
			pa.water -= share
		} else {
			g, ok := c.grams(cw.at("mass"), x.Mass, "Weigh what goes into the stock.")
			if s.Made == nil {
				c.add(cw.at("mass"), ReasonConflict, "A mass in a stock needs the stock's own weights (made). Give of_stock_pct instead.")
			} else if ok && pa.madeG > 0 {
				share = g / pa.madeG
			}
		}
		total += share
		pa.contents = append(pa.contents, stockContent{name: x.Name, share: share})
	}
	if total > 0 && pa.water < 0 {
		c.add(w.at("also_holds"), ReasonSum, "Alkali and contents come to more than the stock. Look at "+strconv.Quote("of_stock_pct")+".")
	}
}

// stockOf says how the alkali is weighed, per mol.
func (p *plan) stockOf(k int) settle.Stock {
	pa := &p.alkali[k]
	m := kindOf[k].MolarMass()
	if pa.solution {
		mass := m / pa.pure
		return settle.Stock{GPerMol: m, PureGMol: m, MassGMol: mass, WaterGMol: float64(mass * pa.water)}
	}
	st := settle.Stock{GPerMol: m / pa.pure, PureGMol: m, MassGMol: m / pa.pure}
	if k == settle.KOH {
		st.OwnGMol = st.MassGMol - m
	}
	return st
}
