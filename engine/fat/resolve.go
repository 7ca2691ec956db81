package fat

import (
	"fmt"
	"slices"
	"strings"
)

// nameEntry is what one name stands for: a single fat, or with a reason why the
// name does not settle which.
type nameEntry struct {
	name string
	key  string // normalized
	fats []*Fat
	why  string // empty: the name means fats[0] and nothing else
}

// AmbiguousError says that a name can mean several fats, or less than a maker
// may think. It is never settled silently: a guess between palm and palm kernel
// is a fifth of the alkali.
type AmbiguousError struct {
	Name       string
	Candidates []*Fat // at least one, likeliest first
	Why        string
}

func (e *AmbiguousError) Error() string {
	ids := make([]string, len(e.Candidates))
	for i, f := range e.Candidates {
		ids[i] = f.ID
	}
	if len(ids) == 1 {
		return fmt.Sprintf("%q does not say which fat it is (%s); if it is %s, give that id", e.Name, e.Why, ids[0])
	}
	return fmt.Sprintf("%q can mean several fats (%s); give the id of one: %s", e.Name, e.Why, strings.Join(ids, ", "))
}

// UnknownError says that no fat goes by a name. Suggestions are for people; they
// are never taken in place of the name.
type UnknownError struct {
	Name        string
	Suggestions []string // up to three ids, or names that need a choice
}

func (e *UnknownError) Error() string {
	if len(e.Suggestions) == 0 {
		return fmt.Sprintf("no fat is known as %q; list the fats, or declare it with its own saponification value", e.Name)
	}
	return fmt.Sprintf("no fat is known as %q; nearest: %s", e.Name, strings.Join(e.Suggestions, ", "))
}

// Resolve finds the fat that an id, a common name or a synonym stands for. Case,
// spaces, hyphens, underscores and common accents do not matter, with one
// exception: the id itself, in hyphens, always means its own row, while the
// same words as a free name may not settle it. "rapeseed-oil" is the high erucic
// oil, "rapeseed oil" is ambiguous; so with sunflower, safflower and stearic
// acid. Errors are *AmbiguousError or *UnknownError.
func Resolve(name string) (*Fat, error) {
	if f, ok := data.byID[strings.ToLower(strings.TrimSpace(name))]; ok {
		return f, nil
	}
	key := normalize(name)
	e, ok := data.names[key]
	switch {
	case !ok:
		return nil, &UnknownError{Name: name, Suggestions: suggest(name, key)}
	case e.why != "":
		return nil, &AmbiguousError{Name: name, Candidates: slices.Clone(e.fats), Why: e.why}
	default:
		return e.fats[0], nil
	}
}

// ignored are the signs that do not tell names apart. All others do: "palm &
// olein" must not run together into a third fat.
var ignored = strings.NewReplacer(" ", "", "-", "", "_", "", ",", "", "(", "", ")", "", "'", "", "’", "", ".", "",
	"ç", "c", "é", "e", "è", "e", "ê", "e", "á", "a", "à", "a", "â", "a", "ã", "a", "í", "i", "ó", "o", "ô", "o", "õ", "o", "ú", "u", "ü", "u")

func normalize(name string) string { return ignored.Replace(strings.ToLower(name)) }

func (t *tables) loadNames() error {
	// Listed names first: an ambiguous one wins over the words of an id.
	err := t.each("names.tsv", "name fat_ids why", t.readName)
	if err != nil {
		return err
	}
	for _, f := range t.fats {
		for _, own := range []string{f.ID, f.Name} {
			key := normalize(own)
			e := t.names[key]
			switch {
			case e == nil:
				t.addName(&nameEntry{name: own, key: key, fats: []*Fat{f}})
			case own == f.ID && (e.why != "" || e.fats[0] == f):
			case e.fats[0] != f || e.why != "":
				return fmt.Errorf("names.tsv: %q is also a name of %s", e.name, f.ID)
			}
		}
	}
	return nil
}

func (t *tables) readName(r *record) {
	e := &nameEntry{name: r.needed("name"), why: r.text("why")}
	e.key = normalize(e.name)
	for _, id := range r.list("fat_ids") {
		f := t.byID[id]
		if f == nil {
			r.fail("fat %q is not in fats.tsv", id)
		}
		e.fats = append(e.fats, f)
	}
	if len(e.fats) == 0 || (len(e.fats) > 1 && e.why == "") {
		r.fail("%q needs one fat, or a reason why it can mean several", e.name)
	}
	if old := t.names[e.key]; old != nil {
		r.fail("%q and %q are the same name", e.name, old.name)
	}
	t.addName(e)
}

func (t *tables) addName(e *nameEntry) {
	t.names[e.key] = e
	t.entries = append(t.entries, e)
}
