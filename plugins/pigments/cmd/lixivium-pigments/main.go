// Command lixivium-pigments serves the pigments plugin to lixi and lixiviumd.
package main

import (
	"lixivium.example/plugins/pigments"
	"lixivium.example/plugins/sdk"
)

func main() { sdk.Serve(pigments.Plugin()) }
