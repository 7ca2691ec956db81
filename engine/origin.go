package engine

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"lixivium.example/engine/fat"
	"lixivium.example/engine/lye"
)

// Version is the version of the engine.
const Version = "0.1.0"

// dataDigest is taken once over every embedded table.
var dataDigest = digestTables()

// DataDigest is the digest over every embedded table, "sha256:" and hex.
func DataDigest() string { return dataDigest }

func digestTables() string {
	h := sha256.New()
	one := func(name string, data []byte) { fmt.Fprintf(h, "%s %d\n", name, len(data)); h.Write(data) }
	for _, t := range fat.Tables() {
		one(t.Name, t.Bytes)
	}
	for _, t := range lye.Tables() {
		one(t.Name, t.Bytes)
	}
	return "sha256:" + hex.EncodeToString(h.Sum(nil))
}

// origin names what answered.
func (e *Engine) origin(p *plan) Origin {
	o := Origin{EngineVersion: Version, DataDigest: dataDigest}
	for i := range p.doses {
		if d := &p.doses[i]; d.owned && !slices.Contains(o.Plugins, d.info.Plugin) {
			o.Plugins = append(o.Plugins, d.info.Plugin)
		}
	}
	return o
}
