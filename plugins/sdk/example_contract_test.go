package sdk_test

import (
	"testing"

	"lixivium.example/plugins/conform"
)

// The example keeps the contract that it teaches.
func TestExampleKeepsTheContract(t *testing.T) { conform.Run(t, OatMilk()) }
