package cost_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"reflect"
	"strconv"

	"lixivium.example/engine"
	"lixivium.example/engine/cost"
)

// reporter is what a test and a property have in common.
type reporter interface {
	Helper()
	Errorf(string, ...any)
	Fatalf(string, ...any)
}

// evaluate works an expression of a worksheet out: + - * / ( ), numbers and
// input names, nothing else.
func evaluate(e ast.Expr, inputs map[string]float64) (float64, error) {
	switch x := e.(type) {
	case *ast.ParenExpr:
		return evaluate(x.X, inputs)
	case *ast.BasicLit:
		return strconv.ParseFloat(x.Value, 64)
	case *ast.Ident:
		if v, ok := inputs[x.Name]; ok {
			return v, nil
		}
		return 0, fmt.Errorf("no input %q", x.Name)
	case *ast.BinaryExpr:
		a, err := evaluate(x.X, inputs)
		if err != nil {
			return 0, err
		}
		b, err := evaluate(x.Y, inputs)
		if err != nil {
			return 0, err
		}
		switch x.Op {
		case token.ADD:
			return a + b, nil
		case token.SUB:
			return a - b, nil
		case token.MUL:
			return a * b, nil
		case token.QUO:
			return a / b, nil
		}
	}
	return 0, fmt.Errorf("%T is not allowed", e)
}

var methods = map[string]bool{
	engine.MethodTable: true, engine.MethodDistribution: true, engine.MethodPropagation: true, engine.MethodWorst: true,
	engine.MethodRounding: true, engine.MethodAgain: true, engine.MethodFinding: true, engine.MethodTrace: true,
	cost.MethodCent: true, cost.MethodWholeBars: true, cost.MethodDoubled: true,
}

// checkSheet proves a worksheet: every expression gives its value, every line
// stands before its readers, every leaf names where it comes from. Differences
// of money are as exact as the larger of their inputs.
func checkSheet(t reporter, lines []engine.WorksheetLine) {
	t.Helper()
	seen := map[string]float64{}
	for _, l := range lines {
		if _, twice := seen[l.ID]; twice {
			t.Errorf("line %s stands twice", l.ID)
		}
		in, largest := map[string]float64{}, math.Abs(l.Value)
		for _, x := range l.Inputs {
			if _, twice := in[x.Name]; twice {
				t.Errorf("%s: input %s twice", l.ID, x.Name)
			}
			in[x.Name] = x.Value
			if x.Unit == l.Unit {
				largest = max(largest, math.Abs(x.Value))
			}
			origins := 0
			for _, from := range []string{x.LineID, x.RequestPath, x.DataRow, x.Adjustment} {
				if from != "" {
					origins++
				}
			}
			if origins != 1 {
				t.Errorf("%s: input %s has %d origins", l.ID, x.Name, origins)
			}
			if v, ok := seen[x.LineID]; x.LineID != "" && (!ok || v != x.Value) {
				t.Errorf("%s reads %s = %v before it stands there (%v)", l.ID, x.LineID, x.Value, v)
			}
		}
		seen[l.ID] = l.Value
		if l.Method != "" {
			if !methods[l.Method] || l.Expression != "" || len(l.Inputs) == 0 && l.Method == cost.MethodCent {
				t.Errorf("%s: method %q, expression %q", l.ID, l.Method, l.Expression)
			}
			continue
		}
		e, err := parser.ParseExpr(l.Expression)
		if err != nil {
			t.Fatalf("%s: %q: %v", l.ID, l.Expression, err)
		}
		v, err := evaluate(e, in)
		if err != nil {
			t.Errorf("%s: %q: %v", l.ID, l.Expression, err)
		} else if math.Abs(v-l.Value) > 1e-12*largest+1e-15 {
			t.Errorf("%s: %q gives %v, the line says %v (%v)", l.ID, l.Expression, v, l.Value, in)
		}
	}
}

// checkCovered proves that every figure of a costing is the value of a line.
func checkCovered(t reporter, c *cost.Costing) {
	t.Helper()
	values := map[float64]bool{0: true}
	for _, l := range c.Worksheet {
		values[l.Value] = true
	}
	plain := *c
	plain.Worksheet = nil
	everyFigure(reflect.ValueOf(plain), "", func(path string, v float64) {
		if !values[v] {
			t.Errorf("%s = %v is on no line", path, v)
		}
	})
}

// everyFigure finds each number of an answer, sums of money among them.
func everyFigure(v reflect.Value, path string, visit func(string, float64)) {
	switch v.Kind() {
	case reflect.Float64:
		visit(path, v.Float())
	case reflect.Int:
		visit(path, float64(v.Int()))
	case reflect.String:
		if x, err := strconv.ParseFloat(v.String(), 64); err == nil {
			visit(path, x)
		}
	case reflect.Slice:
		for i := range v.Len() {
			everyFigure(v.Index(i), path+"["+strconv.Itoa(i)+"]", visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			everyFigure(v.Field(i), path+"."+v.Type().Field(i).Name, visit)
		}
	}
}
