package engine

// resolve turns a recipe into a plan, or says everything that is wrong with it.
func (e *Engine) resolve(r *Recipe, balances []Balance) (*plan, error) {
	var c checker
	p := &plan{recipe: r}
	seen := make(map[string]where, len(r.Fats)+len(r.Doses)+len(r.Portions))
	c.fats(r, p, seen)
	c.alkali(r, p)
	c.water(r, p)
	c.portions(r, p, seen)
	c.doses(r, p, e.additives, seen)
	c.process(r, p)
	c.balancesOf(balances, p)
	if err := c.err(); err != nil {
		return nil, err
	}
	return p, nil
}
