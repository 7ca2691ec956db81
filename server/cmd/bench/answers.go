package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"sync"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/protobuf/proto"

	additivev1 "lixivium.example/proto/lixivium/additive/v1"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
	"lixivium.example/server/config"
	"lixivium.example/server/listen"
)

// prepared gives one answer whatever it is asked, after so many rounds of empty
// calls to bare plugins, all plugins of a round at once. No rounds: an echo.
type prepared struct {
	app.Service
	answer  *lixiviumv1.FormulateResponse
	rounds  int
	plugins []additivev1.AdditiveServiceClient
}

func (p *prepared) Formulate(ctx context.Context, _ *lixiviumv1.FormulateRequest) (*lixiviumv1.FormulateResponse, error) {
	for range p.rounds {
		failed := make([]error, len(p.plugins))
		var wait sync.WaitGroup
		for i, c := range p.plugins {
			wait.Go(func() { _, failed[i] = c.Adjust(ctx, &additivev1.AdjustRequest{}) })
		}
		wait.Wait()
		if err := errors.Join(failed...); err != nil {
			return nil, err
		}
	}
	return p.answer, nil
}

// answers is the server of the baselines: answers FILE ROUNDS [SOCKET...]. It
// prints its address and leaves at the end of its standard input.
func answers(ctx context.Context, args []string) error {
	if len(args) < 2 {
		return errors.New("answers needs a file and a number of rounds")
	}
	listen.CalmCollector()
	raw, err := os.ReadFile(args[0])
	if err != nil {
		return err
	}
	p := &prepared{answer: &lixiviumv1.FormulateResponse{}}
	if err := proto.Unmarshal(raw, p.answer); err != nil {
		return err
	}
	if p.rounds, err = strconv.Atoi(args[1]); err != nil {
		return err
	}
	for _, socket := range args[2:] {
		conn, err := grpc.NewClient("unix:"+socket, grpc.WithTransportCredentials(insecure.NewCredentials()), grpc.WithAuthority("localhost"))
		if err != nil {
			return err
		}
		defer conn.Close() //nolint:errcheck // at the end of the process
		p.plugins = append(p.plugins, additivev1.NewAdditiveServiceClient(conn))
	}
	server, err := listen.Open(ctx, "127.0.0.1:0", p, listen.LimitsOf(config.Default()))
	if err != nil {
		return err
	}
	go func() {
		_, _ = io.Copy(io.Discard, os.Stdin)
		server.Stop()
	}()
	fmt.Println(server.Address())
	return server.Serve()
}
