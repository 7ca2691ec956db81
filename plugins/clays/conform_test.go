package clays_test

import (
	"testing"

	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/conform"
)

func TestContract(t *testing.T) { conform.Run(t, clays.Plugin()) }
