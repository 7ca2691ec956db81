package sugars_test

import (
	"testing"

	"lixivium.example/plugins/conform"
	"lixivium.example/plugins/sugars"
)

func TestContract(t *testing.T) { conform.Run(t, sugars.Plugin()) }
