//go:build properties

package engine_test

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	"lixivium.example/engine"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
	"lixivium.example/server/config"
	"lixivium.example/server/listen"
	"lixivium.example/server/translate"
)

// sharedRecipes is how many recipes are asked in three ways.
const sharedRecipes = 600

// message is the bytes that an answer is written in, every number in all its
// bits, words and findings included.
func message(t *testing.T, f *lixiviumv1.Formulation) []byte {
	t.Helper()
	data, err := proto.MarshalOptions{Deterministic: true}.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// sameAnswer compares what two ways answer, or refuse.
func sameAnswer(t *testing.T, a, b *lixiviumv1.FormulateResponse, errA, errB error) error {
	t.Helper()
	x, y := status.Convert(errA), status.Convert(errB)
	switch {
	case (errA == nil) != (errB == nil) || x.Code() != y.Code() || x.Message() != y.Message():
		return fmt.Errorf("one way ends with %v, the other with %v", errA, errB)
	case errA == nil && !bytes.Equal(message(t, a.GetFormulation()), message(t, b.GetFormulation())):
		return fmt.Errorf("other bytes")
	}
	return nil
}

// TestPropertiesThreeWays: a program that imports the engine, one that calls the
// service in its own process and one that asks through a socket get the same
// answer to the bit, and the same refusal.
func TestPropertiesThreeWays(t *testing.T) {
	service, err := app.New(app.Options{})
	if err != nil {
		t.Fatal(err)
	}
	server, err := listen.Open(t.Context(), "127.0.0.1:0", service, listen.LimitsOf(config.Default()))
	if err != nil {
		t.Fatal(err)
	}
	served := make(chan error, 1)
	go func() { served <- server.Serve() }()
	remote, connection, err := app.Dial(server.Address())
	if err != nil {
		t.Fatal(err)
	}
	answered := 0
	for seed := range sharedRecipes {
		r, balances := anyRecipe.Example(seed), anyBalances.Example(seed)
		if seed%10 == 0 {
			r.Fats[0].Fat, r.Fats[0].Custom, r.Fats[0].Premix = "no such fat", nil, nil
		}
		imported, importedErr := importedWay(t.Context(), r, balances)
		// What Scale returns is the way in which the service writes a recipe.
		written := translate.Scaled(&engine.Scaled{Recipe: r, Balances: balances, Formulation: &engine.Formulation{}})
		q := &lixiviumv1.FormulateRequest{Recipe: written.GetRecipe(), Balances: written.GetBalances(), IncludeWorksheet: true}
		local, localErr := service.Formulate(t.Context(), q)
		far, farErr := remote.Formulate(t.Context(), q)
		if err := sameAnswer(t, imported, local, importedErr, localErr); err != nil {
			t.Errorf("recipe %d, imported and in process: %v", seed, err)
		}
		if err := sameAnswer(t, local, far, localErr, farErr); err != nil {
			t.Errorf("recipe %d, in process and through the socket: %v", seed, err)
		}
		if localErr != nil {
			continue
		}
		answered++
		// One bit in one number is another answer.
		far.Formulation.Alkali.TotalMol *= 1 + 1e-15
		if sameAnswer(t, local, far, nil, nil) == nil {
			t.Errorf("recipe %d: a bit is overlooked", seed)
		}
	}
	t.Logf("%d recipes, %d answered, three ways", sharedRecipes, answered)
	if answered < sharedRecipes/2 || answered == sharedRecipes {
		t.Errorf("%d of %d answered: the trial is thin", answered, sharedRecipes)
	}
	if err := connection.Close(); err != nil {
		t.Error(err)
	}
	server.Stop()
	if err := <-served; err != nil {
		t.Error(err)
	}
}

// importedWay asks the engine itself and writes its answer as a message.
func importedWay(ctx context.Context, r *engine.Recipe, balances []engine.Balance) (*lixiviumv1.FormulateResponse, error) {
	f, err := engine.New(nil).Formulate(ctx, r, engine.Options{Balances: balances, IncludeWorksheet: true})
	if err != nil {
		s, ok := translate.Status(err)
		if !ok {
			return nil, err
		}
		return nil, s.Err()
	}
	return &lixiviumv1.FormulateResponse{Formulation: translate.Formulation(f)}, nil
}
