package main

import (
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"google.golang.org/grpc"

	"lixivium.example/server/app"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"lixi": main, "code": code})
}

// code runs a command line and adds its exit code to standard error, because
// scripts can only tell zero from the rest.
func code() {
	cmd := exec.Command(os.Args[1], os.Args[2:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	err := cmd.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Fprintf(os.Stderr, "exit code %d\n", cmd.ProcessState.ExitCode())
}

// TestScripts runs the command as a user does. $RECIPES is the folder of the
// demo recipes, $LIXIVIUMD the address of a server with the same service.
func TestScripts(t *testing.T) {
	recipes, err := filepath.Abs("../../testdata/recipes")
	if err != nil {
		t.Fatal(err)
	}
	address := serve(t)
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("RECIPES", recipes)
			env.Setenv("LIXIVIUMD", address)
			env.Setenv("GORACE", "atexit_sleep_ms=0") // else each command of a race build ends a second late
			return nil
		},
	})
}

// serve offers the service on loopback until the test ends.
func serve(t *testing.T) string {
	t.Helper()
	service, err := app.New(app.Options{})
	if err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := grpc.NewServer()
	app.Register(server, service)
	done := make(chan error, 1)
	go func() { done <- server.Serve(listener) }()
	t.Cleanup(func() {
		server.Stop()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	return listener.Addr().String()
}
