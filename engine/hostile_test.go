package engine_test

import (
	"context"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lixivium.example/engine"
)

// extremes are numbers that break careless arithmetic, ordinary ones between.
var extremes = rapid.SampledFrom([]float64{
	0, 5e-324, 1e-310, 2.2250738585072014e-308, 1e-300, 1e-160, 1e-9, 1e-6, 1e-3, 0.05, 0.5, 1, 1.5, 2, 5, 33, 50, 52, 60, 95, 98, 100, 145,
	192, 400, 1000, 1e6, 1e7, 1e12, 1e160, 1e300, math.MaxFloat64,
	-5e-324, -1e-310, -1, -100, -1e300, -math.MaxFloat64,
})

// hostileRecipes is how many recipes get extreme numbers.
const hostileRecipes = 5000

// TestPropertiesUnderHostileNumbers: whatever finite numbers stand in a recipe and its balances,
// it is refused in words or answered with finite numbers, worksheet included.
func TestPropertiesUnderHostileNumbers(t *testing.T) {
	answered, refused := 0, 0
	e := engine.New(nil)
	check(t, hostileRecipes, func(t *rapid.T) {
		r, balances := anyRecipe.Draw(t, "recipe"), anyBalances.Draw(t, "balances")
		for range kind(t, 4) {
			disturb(t, r, &balances)
		}
		f, err := e.Formulate(context.Background(), r, engine.Options{Balances: balances, IncludeWorksheet: true})
		switch {
		case err != nil && err.Error() == "":
			t.Fatalf("%s\nrefused without a word", describe(r))
		case err != nil:
			refused++
			return
		}
		answered++
		if at := notFinite(f); at != "" {
			t.Fatalf("%s\n%s is not finite", describe(r), at)
		}
	})
	t.Logf("%d answered, %d refused", answered, refused)
	if answered < hostileRecipes/10 || refused < hostileRecipes/10 {
		t.Errorf("%d answered, %d refused: the trial is thin", answered, refused)
	}
}

// disturb sets one number of chance to an extreme one: any that is stated or,
// less often, one that may be.
func disturb(t *rapid.T, of ...any) {
	var stated, absent []func(float64)
	for _, v := range of {
		numbers(reflect.ValueOf(v), &stated, &absent)
	}
	if len(absent) > 0 && chance(t, 3) {
		stated = absent
	}
	// Not by kind, which prefers the first.
	set := stated[int(zeroOne.Draw(t, "which")*float64(len(stated)-1))]
	set(extremes.Draw(t, "extreme"))
}

// numbers collects what sets each number below a value.
func numbers(v reflect.Value, stated, absent *[]func(float64)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			numbers(v.Elem(), stated, absent)
		}
	case reflect.Slice:
		for i := range v.Len() {
			numbers(v.Index(i), stated, absent)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			if v.Type().Elem().Kind() == reflect.Float64 {
				*stated = append(*stated, func(x float64) { v.SetMapIndex(k, reflect.ValueOf(x)) })
			}
		}
	case reflect.Struct:
		if o, ok := v.Interface().(engine.Optional); ok {
			list := absent
			if o.Set() {
				list = stated
			}
			*list = append(*list, func(x float64) { v.Set(reflect.ValueOf(engine.Some(x))) })
			return
		}
		if q, ok := v.Interface().(engine.Quantity); ok && !q.Given() {
			*absent = append(*absent, func(x float64) { v.Set(reflect.ValueOf(engine.InGrams(x))) })
			return
		}
		for i := range v.NumField() {
			numbers(v.Field(i), stated, absent)
		}
	case reflect.Float64:
		*stated = append(*stated, v.SetFloat)
	}
}

// TestNotFiniteIsFound: one number of an answer that is none is found, wherever
// it stands.
func TestNotFiniteIsFound(t *testing.T) {
	f, err := engine.New(nil).Formulate(t.Context(), bar(), engine.Options{Balances: scales(1)})
	if err != nil {
		t.Fatal(err)
	}
	var all, absent []func(float64)
	numbers(reflect.ValueOf(f), &all, &absent)
	if len(all) < 100 || notFinite(f) != "" {
		t.Fatalf("%d numbers, %q", len(all), notFinite(f))
	}
	before := figures(f)
	for i, set := range all {
		v := []float64{math.NaN(), math.Inf(1), math.Inf(-1)}[i%3]
		if set(v); notFinite(f) == "" {
			t.Fatalf("%v is overlooked in number %d", v, i)
		}
		set(before[i].value)
	}
	if !slices.Equal(figures(f), before) {
		t.Error("the answer was not put back")
	}
}
