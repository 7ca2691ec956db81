package pigments_test

import (
	"testing"

	"lixivium.example/plugins/conform"
	"lixivium.example/plugins/pigments"
)

func TestContract(t *testing.T) { conform.Run(t, pigments.Plugin()) }
