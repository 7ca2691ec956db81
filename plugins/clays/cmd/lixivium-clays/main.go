// Command lixivium-clays serves the clays plugin to lixi and lixiviumd.
package main

import (
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/sdk"
)

func main() { sdk.Serve(clays.Plugin()) }
