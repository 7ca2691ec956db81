package sheet

import (
	"strings"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// Chain writes how one figure of a worksheet came about, down to fields of the
// request, rows of the data and their sources. A line that several others read
// is written out once. Place tells where a field of the request stands. Empty:
// the worksheet has no such line.
func Chain(worksheet []*lixiviumv1.WorksheetLine, id string, place func(path string) string) string {
	c := chain{lines: map[string]*lixiviumv1.WorksheetLine{}, shown: map[string]bool{}, place: place}
	for _, l := range worksheet {
		c.lines[l.GetId()] = l
	}
	l := c.lines[id]
	if l == nil {
		return ""
	}
	c.page.wrap("", "  ", l.GetId()+" = "+valueAndUnit(l.GetValue(), l.GetUnit()))
	c.below(l, 1)
	return c.page.String()
}

type chain struct {
	page  page
	lines map[string]*lixiviumv1.WorksheetLine
	shown map[string]bool
	place func(path string) string
}

// deepest is the level from which on lines are no longer moved to the right,
// so that text keeps room.
const deepest = 20

// below writes what a line says of itself and what it reads.
func (c *chain) below(l *lixiviumv1.WorksheetLine, level int) {
	c.shown[l.GetId()] = true
	indent := strings.Repeat("  ", min(level, deepest))
	hanging := indent + "  "
	if l.GetLabel() != "" {
		c.page.wrap(indent, hanging, l.GetLabel())
	}
	if x := l.GetExpression(); x != "" && !takenOver(l) {
		c.page.wrap(indent, hanging, "= "+x)
	}
	if l.GetMethod() != "" {
		c.page.wrap(indent, hanging, "by the method "+l.GetMethod())
	}
	if e := evidence(l.GetEvidence()); e != "" {
		c.page.wrap(indent, hanging, "rests on: "+e)
	}
	for _, in := range l.GetInputs() {
		c.input(in, indent, level)
	}
}

// takenOver tells whether a line is its only input, unchanged.
func takenOver(l *lixiviumv1.WorksheetLine) bool {
	return len(l.GetInputs()) == 1 && l.GetExpression() == l.GetInputs()[0].GetName()
}

func (c *chain) input(in *lixiviumv1.WorksheetInput, indent string, level int) {
	head := in.GetName() + " = " + valueAndUnit(in.GetValue(), in.GetUnit()) + ", "
	hanging := indent + "  "
	switch from := in.GetFrom().(type) {
	case *lixiviumv1.WorksheetInput_LineId:
		next := c.lines[from.LineId]
		switch {
		case next == nil:
			c.page.wrap(indent, hanging, head+"line "+from.LineId+", which this answer does not hold")
		case c.shown[from.LineId]:
			c.page.wrap(indent, hanging, head+"line "+from.LineId+", written out above")
		default:
			c.page.wrap(indent, hanging, head+"line "+from.LineId)
			c.below(next, level+1)
		}
	case *lixiviumv1.WorksheetInput_RequestPath:
		c.page.wrap(indent, hanging, head+"from "+c.place(from.RequestPath)+" ("+from.RequestPath+")")
	case *lixiviumv1.WorksheetInput_DataRow:
		c.page.wrap(indent, hanging, head+"from the data: "+from.DataRow)
	case *lixiviumv1.WorksheetInput_Adjustment:
		c.page.wrap(indent, hanging, head+"from a plugin: "+from.Adjustment)
	default:
		c.page.wrap(indent, hanging, head+"fixed")
	}
}

// Figures lists the lines of a worksheet that can be asked for.
func Figures(worksheet []*lixiviumv1.WorksheetLine) string {
	p := &page{}
	for _, l := range worksheet {
		text := l.GetId() + " = " + valueAndUnit(l.GetValue(), l.GetUnit())
		if l.GetLabel() != "" {
			text += ": " + l.GetLabel()
		}
		p.wrap("", "    ", text)
	}
	return p.String()
}

// valueAndUnit writes a figure of the reckoning; "1" is the unit of a pure
// number.
func valueAndUnit(v float64, unit string) string {
	if unit == "" || unit == "1" {
		return significant(v)
	}
	return significant(v) + " " + unit
}
