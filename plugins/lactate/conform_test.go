package lactate_test

import (
	"testing"

	"lixivium.example/plugins/conform"
	"lixivium.example/plugins/lactate"
)

func TestContract(t *testing.T) { conform.Run(t, lactate.Plugin()) }
