// Command lixivium-sugars serves the sugars plugin to lixi and lixiviumd.
package main

import (
	"lixivium.example/plugins/sdk"
	"lixivium.example/plugins/sugars"
)

func main() { sdk.Serve(sugars.Plugin()) }
