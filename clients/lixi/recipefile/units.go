package recipefile

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"google.golang.org/protobuf/reflect/protoreflect"
)

// millimeters of the lengths that people measure molds in.
var millimeters = map[string]float64{
	"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "inch": 25.4, "inches": 25.4, "ft": 304.8, "feet": 304.8,
}

// lengthKey says what to write for a key such as length_cm where there is
// length_mm. Empty: it is no such key.
func lengthKey(word, value string, d protoreflect.MessageDescriptor) string {
	at := strings.LastIndexByte(word, '_')
	if at < 0 {
		return ""
	}
	factor, meant := millimeters[word[at+1:]], word[:at]+"_mm"
	if factor == 0 || d.Fields().ByName(protoreflect.Name(meant)) == nil {
		return ""
	}
	next := "lengths are in millimeters here: " + meant
	if v, err := strconv.ParseFloat(value, 64); err == nil {
		next += ": " + converted(v*factor)
	}
	return next
}

// otherUnit says what to write for a number with a unit in a field that has
// another one. Empty: it is the field's own, or nobody can tell.
func otherUnit(field protoreflect.Name, value, word string) string {
	v, err := strconv.ParseFloat(dotted(value), 64)
	if err != nil {
		return ""
	}
	name := string(field)
	word = strings.ToLower(strings.Trim(word, " ."))
	if full := unitWords[word]; full != "" {
		word = full
	}
	switch {
	case strings.HasSuffix(name, "_mm") && millimeters[word] > 1:
		return "write " + converted(v*millimeters[word]) + ": this field is in millimeters"
	case strings.HasSuffix(name, "_c") && slices.Contains([]string{"f", "°f", "fahrenheit", "degrees f"}, word):
		return "write " + converted((v-32)/1.8) + ": this field is in degrees Celsius"
	case slices.Contains(unitNames(), name) && word != name && slices.Contains(unitNames(), word):
		return "write " + word + ": " + dotted(value) + " in place of " + name
	}
	return ""
}

// converted writes a value that came from another unit, to a tenth.
func converted(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64) }
