package engine_test

import (
	"context"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"reflect"
	"strconv"
	"testing"

	"lixivium.example/engine"
)

// evaluate works an expression of a worksheet out: + - * / ( ), numbers and
// input names, nothing else.
func evaluate(expression string, inputs map[string]float64) (float64, error) {
	e, err := parser.ParseExpr(expression)
	if err != nil {
		return 0, err
	}
	var eval func(ast.Expr) (float64, error)
	eval = func(e ast.Expr) (float64, error) {
		switch x := e.(type) {
		case *ast.ParenExpr:
			return eval(x.X)
		case *ast.BasicLit:
			return strconv.ParseFloat(x.Value, 64)
		case *ast.Ident:
			v, ok := inputs[x.Name]
			if !ok {
				return 0, fmt.Errorf("no input %q", x.Name)
			}
			return v, nil
		case *ast.BinaryExpr:
			a, err := eval(x.X)
			if err != nil {
				return 0, err
			}
			b, err := eval(x.Y)
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
	return eval(e)
}

var methods = map[string]bool{
	engine.MethodTable: true, engine.MethodDistribution: true, engine.MethodPropagation: true,
	engine.MethodWorst: true, engine.MethodRounding: true, engine.MethodAgain: true, engine.MethodFinding: true, engine.MethodTrace: true,
}

// checkSheet proves a worksheet: every expression gives its value, every line
// stands before its readers, every leaf names where it comes from.
func checkSheet(t *testing.T, lines []engine.WorksheetLine) {
	t.Helper()
	seen := map[string]float64{}
	for _, l := range lines {
		if _, twice := seen[l.ID]; twice {
			t.Errorf("line %s stands twice", l.ID)
		}
		in := map[string]float64{}
		for _, x := range l.Inputs {
			if _, twice := in[x.Name]; twice {
				t.Errorf("%s: input %s twice", l.ID, x.Name)
			}
			in[x.Name] = x.Value
			origins := 0
			for _, from := range []string{x.LineID, x.RequestPath, x.DataRow, x.Adjustment} {
				if from != "" {
					origins++
				}
			}
			if origins != 1 {
				t.Errorf("%s: input %s has %d origins", l.ID, x.Name, origins)
			}
			if x.LineID != "" {
				v, ok := seen[x.LineID]
				if !ok || v != x.Value {
					t.Errorf("%s reads %s = %v before it stands there (%v)", l.ID, x.LineID, x.Value, v)
				}
			}
		}
		switch {
		case l.Method != "":
			if !methods[l.Method] || l.Expression != "" {
				t.Errorf("%s: method %q, expression %q", l.ID, l.Method, l.Expression)
			}
		default:
			v, err := evaluate(l.Expression, in)
			if err != nil {
				t.Errorf("%s: %q: %v", l.ID, l.Expression, err)
			} else if math.Abs(v-l.Value) > 1e-12*math.Abs(l.Value)+1e-15 {
				t.Errorf("%s: %q gives %v, the line says %v (%v)", l.ID, l.Expression, v, l.Value, in)
			}
		}
		seen[l.ID] = l.Value
	}
}

// everyNumber finds each float of an answer with its path.
func everyNumber(v reflect.Value, path string, visit func(path string, x float64)) {
	switch v.Kind() {
	case reflect.Float64:
		visit(path, v.Float())
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			everyNumber(v.Elem(), path, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			everyNumber(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; v.Type().Field(i).IsExported() && name != "Worksheet" && name != "Remedies" {
				everyNumber(v.Field(i), path+"."+name, visit)
			}
		}
	}
}

// checkCovered proves that every number of an answer is the value of a line.
func checkCovered(t *testing.T, f *engine.Formulation) {
	t.Helper()
	values := map[float64]bool{0: true}
	for _, l := range f.Worksheet {
		values[l.Value] = true
	}
	everyNumber(reflect.ValueOf(f), "", func(path string, x float64) {
		if values[x] {
			return
		}
		for v := range values {
			if math.Abs(v-x) <= 1e-12*math.Abs(x) {
				return
			}
		}
		t.Errorf("%s = %v is on no line", path, x)
	})
}

func TestWorksheet(t *testing.T) {
	for name, r := range sheetRecipes() {
		for _, balances := range [][]engine.Balance{nil, {{Step: engine.Quantity{Value: 0.05, Unit: engine.Ounce}}, {Step: engine.InGrams(0.01), Capacity: engine.InGrams(200)}}} {
			t.Run(fmt.Sprintf("%s/%d", name, len(balances)), func(t *testing.T) {
				f, err := engine.New(nil).Formulate(context.Background(), r, engine.Options{Balances: balances, IncludeWorksheet: true})
				if err != nil {
					t.Fatal(err)
				}
				checkSheet(t, f.Worksheet)
				checkCovered(t, f)
				plain, err := engine.New(nil).Formulate(context.Background(), r, engine.Options{Balances: balances})
				if err != nil {
					t.Fatal(err)
				}
				f.Worksheet = nil
				if !reflect.DeepEqual(f, plain) {
					t.Error("asking for the worksheet changed a figure")
				}
			})
		}
	}
}

// A row of the data has one value: a path that stands for several is none.
func TestDataRowsHaveOneValue(t *testing.T) {
	values := map[string]float64{}
	recipes := sheetRecipes()
	for _, k := range []string{"naoh", "koh"} {
		r := *recipes["plain"]
		if k == "koh" {
			r.Alkali.KOHOfMolesPct = engine.Some(100)
		}
		recipes["unstated "+k] = &r
	}
	for name, r := range recipes {
		f, err := engine.New(nil).Formulate(context.Background(), r, engine.Options{IncludeWorksheet: true})
		if err != nil {
			t.Fatal(name, err)
		}
		for _, l := range f.Worksheet {
			for _, x := range l.Inputs {
				if v, ok := values[x.DataRow]; ok && x.DataRow != "" && v != x.Value {
					t.Errorf("%s, %s: %s is %v here and %v elsewhere", name, l.ID, x.DataRow, x.Value, v)
				}
				values[x.DataRow] = x.Value
			}
		}
	}
}

// sheetRecipes reach every branch of the reckoning.
func sheetRecipes() map[string]*engine.Recipe {
	g, some := engine.InGrams, engine.Some
	conc := func(v float64) *engine.Water {
		return &engine.Water{Measure: &engine.WaterMeasure{LyeConcentrationPct: some(v)}}
	}
	citric := &engine.CustomAdditive{Name: "Citric acid", AlkaliMolPerG: &engine.Measured{Value: 0.015615, HalfWidth: some(0.0001)}, GPerTeaspoonUS: some(4.6)}
	out := map[string]*engine.Recipe{}
	out["plain"] = &engine.Recipe{
		Fats:   []engine.FatLine{{ID: "olive", Fat: "olive-oil", Mass: engine.Quantity{Value: 25, Unit: engine.Ounce}}, {ID: "coconut", Fat: "coconut-oil", Mass: g(300)}},
		Alkali: engine.Alkali{SuperfatPct: some(5)}, Water: conc(33),
	}
	out["shares, waxes, mixed alkali by grams, acid added"] = &engine.Recipe{
		Fats: []engine.FatLine{
			{ID: "palm", Fat: "palm-oil", SharePct: some(60)}, {ID: "wax", Fat: "beeswax", SharePct: some(2), CertificateSV: &engine.Measured{Value: 96}},
			{ID: "stearic", Fat: "stearic-acid", SharePct: some(3), CertificateSV: &engine.Measured{Value: 207}},
			{ID: "mix", Premix: &engine.Premix{Name: "Soft mix", Fats: []engine.FatLine{{ID: "a", Fat: "castor-oil", SharePct: some(30)}, {ID: "b", Fat: "oleic-acid", SharePct: some(70)}}}, SharePct: some(35)},
		},
		TotalFats: engine.Quantity{Value: 2, Unit: engine.Pound},
		Alkali:    engine.Alkali{SuperfatPct: some(4), KOHOfGramsPct: some(30), KOH: &engine.AlkaliStock{PurityPct: some(91)}},
		Water:     &engine.Water{Discount: &engine.WaterDiscount{OffPct: 10, Reference: &engine.WaterMeasure{OfFatsPct: some(38)}}},
		Doses:     []engine.Dose{{ID: "citric", Custom: citric, OfFatsPct: some(1), Treatment: engine.TreatmentAdd, Stage: engine.StageWaterBeforeLye}},
		Process:   engine.Process{WaterC: some(5)},
	}
	out["portions with carriers"] = &engine.Recipe{
		Fats:   []engine.FatLine{{ID: "olive", Fat: "olive-oil", Mass: g(600)}, {ID: "acid", Fat: "oleic-acid", Mass: g(50)}, {ID: "coconut", Fat: "coconut-oil", Mass: g(350)}},
		Alkali: engine.Alkali{SuperfatPct: some(6), KOHOfMolesPct: some(10), NaOH: &engine.AlkaliStock{PurityPct: some(99), HalfWidthPct: some(0.5)}},
		Water:  &engine.Water{Measure: &engine.WaterMeasure{WaterPerAlkali: some(2.2)}, GrantRequests: true},
		Doses: []engine.Dose{
			{ID: "milk", Custom: &engine.CustomAdditive{Name: "Milk", WaterGPerG: 0.87, FatGPerG: map[string]float64{"milk-fat": 0.04, "oleic-acid": 0.01}, DensityGPerML: some(1.03)}, OfAskedWaterPct: some(30), Treatment: engine.TreatmentAdd, Stage: engine.StageWaterBeforeLye},
			{ID: "white", Custom: &engine.CustomAdditive{Name: "White", DensityGPerML: some(4.2)}, OfFatsPct: some(1), PortionID: "a", Carrier: &engine.Carrier{Fat: "olive", GPerG: 3}},
			{ID: "sour", Custom: citric, Spoons: &engine.Spoons{TeaspoonsUS: 1, PerFats: engine.Quantity{Value: 1, Unit: engine.Pound}}, PortionID: "a", Basis: engine.BasisBatchFats},
			{ID: "acidic", Custom: &engine.CustomAdditive{Name: "Pink"}, Mass: g(2), PortionID: "b", Carrier: &engine.Carrier{Fat: "acid", GPerG: 2}},
			{ID: "clay", Custom: &engine.CustomAdditive{Name: "Clay", BoundWaterGPerG: 0.5}, Mass: g(8), PortionID: "b", Carrier: &engine.Carrier{Water: true, GPerG: 2}},
			{ID: "blue", Custom: &engine.CustomAdditive{Name: "Blue"}, Mass: g(3), PortionID: "c", Carrier: &engine.Carrier{Fat: "castor-oil", GPerG: 2, Premixed: true}},
			{ID: "petals", Custom: &engine.CustomAdditive{Name: "Petals"}, Mass: g(4), Stage: engine.StageSurface},
		},
		Portions: []engine.Portion{{ID: "a", BaseSharePct: 50}, {ID: "b", BaseSharePct: 30}, {ID: "c", BaseSharePct: 20}},
	}
	out["made stock"] = &engine.Recipe{
		Fats:   []engine.FatLine{{ID: "lard", Fat: "lard", Mass: g(900)}, {ID: "own", Custom: &engine.CustomFat{Name: "Own fat", SV: engine.Measured{Value: 191, HalfWidth: some(5)}, FattyAcidsPct: map[string]float64{"C18:1": 80, "C16:0": 20}}, Mass: g(100)}},
		Alkali: engine.Alkali{SuperfatPct: some(5), NaOH: &engine.AlkaliStock{Made: &engine.MadeStock{Solid: g(500), Water: engine.Quantity{Value: 500, Unit: engine.Milliliter}}, AlsoHolds: []engine.StockContent{{Name: "Sugar", Mass: g(10)}}}},
		Water:  &engine.Water{Measure: &engine.WaterMeasure{Mass: engine.Quantity{Value: 300, Unit: engine.Milliliter}}},
	}
	out["solution by density"] = &engine.Recipe{
		Fats:   []engine.FatLine{{ID: "olive", Fat: "olive-oil", Mass: engine.Quantity{Value: 1, Unit: engine.Liter}}},
		Alkali: engine.Alkali{SuperfatPct: some(5), KOHOfMolesPct: some(100), KOH: &engine.AlkaliStock{Solution: &engine.SolutionStrength{DensityGPerML: some(1.45), TemperatureC: some(20)}, AlsoHolds: []engine.StockContent{{Name: "Sugar", OfStockPct: some(2)}}}},
		Water:  conc(30),
	}
	out["judged"] = &engine.Recipe{
		Fats:    []engine.FatLine{{ID: "palm", Fat: "palm-oil", Mass: g(500)}, {ID: "olive", Fat: "olive-oil", Mass: g(500)}},
		Alkali:  engine.Alkali{Given: &engine.GivenAlkali{NaOH: g(250), KOH: g(20)}},
		Vessels: engine.Vessels{Pot: engine.Quantity{Value: 1, Unit: engine.Liter}, Jug: engine.Quantity{Value: 200, Unit: engine.Milliliter}},
		Process: engine.Process{LyeStorageC: some(5)},
		Doses:   []engine.Dose{{ID: "vinegar", Custom: &engine.CustomAdditive{Name: "Vinegar", WaterGPerG: 0.95, AlkaliMolPerG: &engine.Measured{Value: 0.000833}}, Mass: g(30), WaterSource: engine.WaterOnTop}},
	}
	return out
}
