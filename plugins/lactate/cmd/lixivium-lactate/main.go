// Command lixivium-lactate serves the lactate plugin to lixi and lixiviumd.
package main

import (
	"lixivium.example/plugins/lactate"
	"lixivium.example/plugins/sdk"
)

func main() { sdk.Serve(lactate.Plugin()) }
