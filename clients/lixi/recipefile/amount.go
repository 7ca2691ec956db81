package recipefile

import (
	"fmt"
	"regexp"
	"strings"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/reflect/protoreflect"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Names of the two messages that a bare number is often written for.
const (
	quantityName protoreflect.Name = "Quantity"
	measuredName protoreflect.Name = "Measured"
)

// looksLikeAmount explains a bare number, with or without a unit, where a
// quantity or a measured value belongs. False: something else stands here.
func (r *reader) looksLikeAmount(path string, n *yaml.Node, fd protoreflect.FieldDescriptor) bool {
	if n.Kind != yaml.ScalarNode {
		return false
	}
	name := string(fd.Name())
	switch fd.Message().Name() {
	case quantityName:
		value, unit, ok := splitAmount(n.Value)
		switch {
		case !ok:
			r.problem(n, path, shown(n.Value)+" where an amount belongs", fmt.Sprintf("write %s: {g: 400}; units: %s", name, strings.Join(unitNames(), ", ")))
		case unit == "":
			r.problem(n, path, shown(n.Value)+" has no unit", fmt.Sprintf("write %s: {g: %s}, or another unit: %s", name, value, strings.Join(unitNames()[1:], ", ")))
		default:
			next := fmt.Sprintf("write %s: {%s: %s}", name, unit, value)
			if raw := amount.FindStringSubmatch(n.Value)[1]; strings.Contains(raw, ",") {
				next = commaFixWithin(name+": {"+unit+": ", raw, "}")
			}
			r.problem(n, path, shown(n.Value)+" holds its unit in the value", next)
		}
		return true
	case measuredName:
		value, _, ok := splitAmount(n.Value)
		if !ok {
			value = "190"
		}
		r.problem(n, path, shown(n.Value)+" where a value with its half-width belongs", fmt.Sprintf("write %s: {value: %s}, with half_width where it is known", name, value))
		return true
	}
	return false
}

var amount = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?) *([\pL._ ]*)$`)

// ParseQuantity reads an amount as it is typed at a command: "139.5g",
// "4.9 oz". What is wrong and what to do come back in words.
func ParseQuantity(s string) (q *lixiviumv1.Quantity, bad, next string) {
	units := strings.Join(unitNames(), ", ")
	value, unit, ok := splitAmount(s)
	if !ok || unit == "" {
		return nil, shown(s) + " is no amount", "write a number and its unit, such as 139.5g; units: " + units
	}
	if strings.Contains(s, ",") {
		return nil, shown(s) + " has a decimal comma", commaFixWithin("", strings.Replace(value, ".", ",", 1), unit)
	}
	v, bad, next := number(value, false)
	if bad != "" {
		return nil, shown(s) + " " + bad, next
	}
	q = &lixiviumv1.Quantity{}
	m := q.ProtoReflect()
	m.Set(m.Descriptor().Fields().ByName(protoreflect.Name(unit)), protoreflect.ValueOfFloat64(v))
	return q, "", ""
}

// unitWords are other ways to write the units of the contract.
var unitWords = map[string]string{
	"gram": "g", "grams": "g", "gr": "g", "kilo": "kg", "kilogram": "kg", "kilograms": "kg",
	"ounce": "oz", "ounces": "oz", "lbs": "lb", "pound": "lb", "pounds": "lb",
	"milliliter": "ml", "milliliters": "ml", "liter": "l", "liters": "l",
	"fl oz": "fl_oz_us", "floz": "fl_oz_us", "cup": "cup_us", "cups": "cup_us",
	"tsp": "tsp_us", "teaspoon": "tsp_us", "teaspoons": "tsp_us",
}

// splitAmount parts "400 g" into number and unit of the contract; the unit is
// empty when there is none. False: no amount, or an unknown unit.
func splitAmount(s string) (value, unit string, ok bool) {
	m := amount.FindStringSubmatch(s)
	if m == nil {
		return "", "", false
	}
	value, word := dotted(m[1]), strings.ToLower(strings.Trim(m[2], " ."))
	if word == "" {
		return value, "", true
	}
	if full := unitWords[word]; full != "" {
		word = full
	}
	for _, name := range unitNames() {
		if name == word {
			return value, word, true
		}
	}
	return "", "", false
}

// unitNames lists the units of the contract.
func unitNames() []string {
	return fieldNames((*lixiviumv1.Quantity)(nil).ProtoReflect().Descriptor())
}
