// Command lixivium-acids serves the acids plugin to lixi and lixiviumd.
package main

import (
	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/sdk"
)

func main() { sdk.Serve(acids.Plugin()) }
