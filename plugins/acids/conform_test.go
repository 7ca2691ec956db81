package acids_test

import (
	"testing"

	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/conform"
)

func TestContract(t *testing.T) { conform.Run(t, acids.Plugin()) }
