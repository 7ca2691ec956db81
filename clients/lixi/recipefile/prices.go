package recipefile

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// kind is what tells the files for one purpose from those for another.
type kind struct {
	formatKey string // carries the format number, beside the request's fields
	noun      string
	holds     string // what there is one of in a file
	begin     string // how a file begins
}

// kind gives the words for the file that is read.
func (r *reader) kind() kind {
	if r.prices {
		return kind{"prices_format", "price file", "price book", "`prices_format: 1` and `prices:`; lixi cost --help shows an example"}
	}
	return kind{formatKey, "recipe file", "recipe", "`recipe_format: 1` and `recipe:`; lixi formulate --help shows an example"}
}

// ReadPrices is Read for a price file: a price book under the key prices, which
// fills the field of that name.
func ReadPrices(name string, data []byte, into *lixiviumv1.CostRequest) (*Places, error) {
	r := &reader{
		prices: true,
		file:   name,
		elsewhere: map[string]string{
			"recipes":           "recipes stand in files of their own; name them behind lixi cost",
			"allow_partial":     "it is a matter of the moment: lixi cost --partial",
			"include_worksheet": "it is a matter of the moment: lixi explain --prices",
		},
		places: &Places{file: name, at: map[string]place{}, noted: map[string]string{}},
	}
	return r.read(data, into)
}
