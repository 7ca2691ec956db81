package cost

import (
	"strconv"
	"strings"

	"github.com/cockroachdb/apd/v3"

	"lixivium.example/engine"
	"lixivium.example/engine/fat"
)

// Cost costs recipes, at most MaxRecipes, with one price book. The answer has
// one Costing for each recipe, in order; it is empty for a recipe without a
// formulation. The error is an *engine.Violations with everything that is wrong
// with prices and terms, its paths those of a request that holds recipes and
// prices: "prices.packs[3].price", "recipes[0].terms.margin_pct". Prices that
// are missing are named once the packs that are there are right.
func Cost(recipes []Costed, prices *PriceBook, o Options) ([]Costing, error) {
	var c checker
	at := place{"recipes", -1, ""}
	switch n := len(recipes); {
	case n == 0:
		c.add(at, "", engine.ReasonRequired, "There is no recipe to cost. Name at least one.")
	case n > MaxRecipes:
		c.add(at, "", engine.ReasonTooMany, strconv.Itoa(n)+" recipes; at most "+strconv.Itoa(MaxRecipes)+" in one call.")
		return nil, c.err()
	}
	w := works{book: c.book(prices), options: o}
	whole := len(c.list) == 0
	all := make([]*terms, len(recipes))
	for i := range recipes {
		all[i] = c.terms(termsAt(i), &recipes[i].Terms, w.book.minor)
	}
	if len(c.list) > 0 {
		if whole && !o.AllowPartial {
			w.look(recipes)
			w.missing(&c)
		}
		return nil, c.err()
	}
	out := make([]Costing, len(recipes))
	for i := range recipes {
		if recipes[i].Formulation != nil {
			out[i] = w.cost(&c, i, &recipes[i], all[i])
		}
	}
	if !o.AllowPartial {
		w.missing(&c)
	}
	if err := c.err(); err != nil {
		return nil, err
	}
	return out, nil
}

// works costs recipe after recipe and remembers what had no price.
type works struct {
	book    *book
	options Options
	lacking []lack
	seen    map[string]int // key to index of lacking
}

// lack is a material without a price.
type lack struct {
	name, recipe, line string
	recipes, last      int
}

// costing is the work on one recipe.
type costing struct {
	index   int
	book    *book
	in      *Costed
	t       *terms
	out     *Costing
	lines   []line
	layer   [4]*apd.Decimal // sums by layer
	batch   *apd.Decimal
	bar     *apd.Decimal
	asked   *apd.Decimal // price before rounding
	held    *apd.Decimal // price rounded up, before it is fitted to the tax
	bumped  bool         // held is above the next cent, for what the fees' rounding takes
	before  *apd.Decimal // price before tax; nil: none
	with    *apd.Decimal
	fees    *apd.Decimal
	doubled []*doubling
}

// line is a line with its figures.
type line struct {
	layer  int
	item   *item // nil beside materials
	exact  *apd.Decimal
	amount *apd.Decimal
}

var layers = [4]Layer{Materials, Packaging, Labor, Overhead}

// look remembers what has no price without costing anything.
func (w *works) look(recipes []Costed) {
	for i := range recipes {
		if recipes[i].Formulation == nil {
			continue
		}
		items := w.book.items(&recipes[i])
		for j := range items {
			if items[j].lacks() {
				w.lack(i, &recipes[i], &items[j])
			}
		}
	}
}

// cost costs one recipe.
func (w *works) cost(c *checker, i int, in *Costed, t *terms) Costing {
	k := costing{index: i, book: w.book, in: in, t: t, out: &Costing{RecipeName: in.Recipe.Name, CurrencyCode: w.book.spec.CurrencyCode}}
	for j := range k.layer {
		k.layer[j] = zero
	}
	items := w.book.items(in)
	k.lines = make([]line, 0, len(items)+4)
	for j := range items {
		it := &items[j]
		if it.lacks() {
			w.lack(i, in, it)
			k.lacks(it.name)
			continue
		}
		k.material(it)
	}
	if len(k.out.MissingMaterials) > 0 && !w.options.AllowPartial {
		return Costing{} // refused in the end; a price of what is there would only confuse
	}
	k.rest()
	k.total()
	if !k.price(c) {
		return Costing{}
	}
	k.sensitivity()
	if w.options.IncludeWorksheet {
		k.worksheet()
	}
	return *k.out
}

// lacks notes a material without a price in the answer, once.
func (k *costing) lacks(name string) {
	for _, other := range k.out.MissingMaterials {
		if key(other) == key(name) {
			return
		}
	}
	k.out.MissingMaterials = append(k.out.MissingMaterials, name)
}

// lack remembers a material without a price over all recipes.
func (w *works) lack(recipe int, in *Costed, it *item) {
	if w.seen == nil {
		w.seen = map[string]int{}
	}
	at, ok := w.seen[it.key]
	if !ok {
		at = len(w.lacking)
		w.seen[it.key] = at
		w.lacking = append(w.lacking, lack{name: it.name, recipe: in.Recipe.Name, line: it.lineID, last: -1})
	}
	if l := &w.lacking[at]; l.last != recipe {
		l.recipes, l.last = l.recipes+1, recipe
	}
}

// missing refuses what has no price, each material once.
func (w *works) missing(c *checker) {
	at := place{"prices", -1, ""}
	for i := range w.lacking {
		l := &w.lacking[i]
		where := "the line " + strconv.Quote(l.line)
		if l.recipe != "" {
			where += " of " + strconv.Quote(l.recipe)
		}
		if l.recipes > 1 {
			where += ", and " + strconv.Itoa(l.recipes-1) + " more recipes"
		}
		advice := "Add a pack of it, or ask for a partial cost."
		if strings.HasSuffix(key(l.name), solution) {
			advice = "Add a pack of the solution as it is bought, state how the shop mixed it (made), or ask for a partial cost."
		}
		c.add(at, "packs", ReasonNoPrice, "No pack of "+strconv.Quote(l.name)+" ("+where+"). "+advice, w.book.near(l.name)...)
	}
}

// near are the names in the book that may mean a material: another name of the
// fat, or one that resembles its id.
func (b *book) near(name string) []string {
	var out []string
	told := map[string]bool{}
	for i := range b.spec.Packs {
		p := b.spec.Packs[i].Material
		k := key(p)
		if told[k] || k == key(name) {
			continue
		}
		if f, err := fat.Resolve(p); err == nil && f.ID == key(name) || resembles(k, key(name)) {
			told[k] = true
			out = append(out, p)
		}
		if len(out) == 3 {
			break
		}
	}
	return out
}

// resembles tells whether two names differ in spaces and hyphens only, or one
// is the beginning of the other.
func resembles(a, b string) bool {
	a, b = squeezed.Replace(a), squeezed.Replace(b)
	return a == b || min(len(a), len(b)) >= 4 && (strings.HasPrefix(a, b) || strings.HasPrefix(b, a))
}

var squeezed = strings.NewReplacer(" ", "", "-", "", "_", "")
