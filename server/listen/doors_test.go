package listen

import (
	"reflect"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
)

// TestBothDoorsAnswerAlike: a dialed service and one in this process give the
// same answers and the same refusals.
func TestBothDoorsAnswerAlike(t *testing.T) {
	here := realService(t)
	there, closer, err := app.Dial(start(t, here).Address())
	if err != nil {
		t.Fatal(err)
	}
	defer closer.Close()
	ctx := t.Context()

	for _, request := range requests {
		var q lixiviumv1.FormulateRequest
		if err := protojson.Unmarshal([]byte(request), &q); err != nil {
			t.Fatal(err)
		}
		want, wantErr := here.Formulate(ctx, &q)
		got, gotErr := there.Formulate(ctx, &q)
		compare(t, request, got, gotErr, want, wantErr)
		if request == plain && got.GetFormulation().GetAlkali().GetNaohG() <= 0 {
			t.Errorf("no answer: %v", gotErr)
		}

		r := &lixiviumv1.ReconcileWeightsRequest{Recipe: q.Recipe, Actual: []*lixiviumv1.ActualWeight{
			{LineId: "olive", Mass: &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: 712}}},
		}}
		wantR, wantErr := here.ReconcileWeights(ctx, r)
		gotR, gotErr := there.ReconcileWeights(ctx, r)
		compare(t, request, gotR, gotErr, wantR, wantErr)
	}

	wantFats, wantErr := here.ListFats(ctx, &lixiviumv1.ListFatsRequest{NameContains: "palm"})
	gotFats, gotErr := there.ListFats(ctx, &lixiviumv1.ListFatsRequest{NameContains: "palm"})
	compare(t, "fats", gotFats, gotErr, wantFats, wantErr)
	wantWater, wantErr := here.ListWaterReferences(ctx, &lixiviumv1.ListWaterReferencesRequest{})
	gotWater, gotErr := there.ListWaterReferences(ctx, &lixiviumv1.ListWaterReferencesRequest{})
	compare(t, "water", gotWater, gotErr, wantWater, wantErr)
	wantCodes, wantErr := here.ListFindingCodes(ctx, &lixiviumv1.ListFindingCodesRequest{})
	gotCodes, gotErr := there.ListFindingCodes(ctx, &lixiviumv1.ListFindingCodesRequest{})
	compare(t, "codes", gotCodes, gotErr, wantCodes, wantErr)
	wantVersions, wantErr := here.GetVersions(ctx, &lixiviumv1.GetVersionsRequest{})
	gotVersions, gotErr := there.GetVersions(ctx, &lixiviumv1.GetVersionsRequest{})
	compare(t, "versions", gotVersions, gotErr, wantVersions, wantErr)
}

func compare(t *testing.T, what string, got proto.Message, gotErr error, want proto.Message, wantErr error) {
	t.Helper()
	if (gotErr == nil) != (wantErr == nil) || !reflect.DeepEqual(app.ReadRefusal(gotErr), app.ReadRefusal(wantErr)) {
		t.Errorf("%s: refused there with %v, here with %v", what, gotErr, wantErr)
	} else if gotErr == nil && !proto.Equal(got, want) {
		t.Errorf("%s: answered there %v, here %v", what, got, want)
	}
}

const plain = `{"recipe":{"name":"plain bar","alkali":{"superfat_pct":5},"water":{"measure":{"lye_concentration_pct":33}},
	"fats":[{"id":"olive","fat":"olive-oil","mass":{"g":700}},{"id":"coconut","fat":"coconut-oil","mass":{"g":300}}]},
	"balances":[{"step":{"g":1}}],"include_worksheet":true}`

// requests holds fine ones, ones with many faults, and one that cannot be made.
var requests = []string{
	plain,
	`{}`,
	`{"recipe":{}}`,
	`{"recipe":{"fats":[{"id":"a","fat":"olive","mass":{"g":-1}},{"id":"a","fat":"olif oil","mass":{"cup_us":1}}],"alkali":{"superfat_pct":0.05},"doses":[{"stage":77}]}}`,
	`{"recipe":{"alkali":{"superfat_pct":5},"water":{"measure":{"lye_concentration_pct":69}},"fats":[{"id":"olive","fat":"olive-oil","mass":{"g":700}}]}}`,
	`{"recipe":{"alkali":{"superfat_pct":5},"water":{"measure":{"lye_concentration_pct":33}},"fats":[{"id":"olive","fat":"olive-oil","mass":{"g":700}}],"doses":[{"id":"d","additive":"honey","of_fats_pct":2}]}}`,
}
