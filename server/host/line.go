package host

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"lixivium.example/engine"
	"lixivium.example/server/host/wire"
)

// YAML is the line as it stands under "plugins:" in lixivium.yaml.
func (l Line) YAML() string {
	var b strings.Builder
	b.WriteString("  - name: " + word(l.Name) + "\n")
	b.WriteString("    file: " + quoted(l.File) + "\n")
	b.WriteString("    sha256: " + quoted(l.SHA256) + "\n")
	grants := make([]string, len(l.Grants))
	for i, g := range l.Grants {
		grants[i] = string(g)
	}
	b.WriteString("    grants: [" + strings.Join(grants, ", ") + "]\n")
	b.WriteString("    additives: " + words(l.Additives))
	if len(l.WatchesFats) > 0 {
		b.WriteString("    watches_fats: " + words(l.WatchesFats))
	}
	return b.String()
}

// quoted makes any text a YAML value. Digits alone would be a number; what does
// not print stands as an escape, of which YAML has the same as Go.
func quoted(s string) string {
	if strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return strconv.QuoteToASCII(s)
	}
	return "'" + strings.ReplaceAll(s, "'", "''") + "'"
}

// word writes an id. Some ids mean something else to YAML.
func word(id string) string {
	switch id {
	case "null", "true", "false", "yes", "no", "on", "off":
		return quoted(id)
	}
	return id
}

func words(ids []string) string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = word(id)
	}
	return "[" + strings.Join(out, ", ") + "]\n"
}

// wanted is the line under which a plugin would start as it is.
func wanted(l Line, m *wire.Manifest) Line {
	out := Line{Name: m.Name, File: l.File, SHA256: l.SHA256, Grants: slices.Clone(m.Wants), WatchesFats: m.WatchesFats}
	for i := range m.Owns {
		out.Additives = append(out.Additives, m.Owns[i].ID)
	}
	return out
}

// accept compares what a plugin says of itself with the operator's line.
func accept(l Line, m *wire.Manifest) error {
	var wrong []string
	if m.Name != l.Name {
		wrong = append(wrong, "its name is "+m.Name)
	}
	if more := lacking(m.Wants, l.Grants); len(more) > 0 {
		wrong = append(wrong, "it wants the grants "+strings.Join(more, ", "))
	}
	owns := make([]string, len(m.Owns))
	for i := range m.Owns {
		owns[i] = m.Owns[i].ID
	}
	if more := lacking(owns, l.Additives); len(more) > 0 {
		wrong = append(wrong, "it owns the additives "+strings.Join(more, ", "))
	}
	if more := lacking(m.WatchesFats, l.WatchesFats); len(more) > 0 {
		wrong = append(wrong, "it watches the fats "+strings.Join(more, ", "))
	}
	if len(wrong) == 0 {
		return nil
	}
	return &refusal{
		text: "its line in lixivium.yaml does not accept it: " + strings.Join(wrong, "; ") + ". If you agree, its line is:",
		line: wanted(l, m),
	}
}

// lacking lists what is not among those given.
func lacking[T ~string](all, given []T) []string {
	var out []string
	for _, x := range all {
		if !slices.Contains(given, x) {
			out = append(out, string(x))
		}
	}
	return out
}

// refusal is a start that the operator's file does not allow. Trying again
// would not help.
type refusal struct {
	text string
	line Line // that would allow it
}

func (r *refusal) Error() string { return r.text + "\n" + r.line.YAML() }

// known is what a plugin last said of itself. It stays while the process is
// down.
type known struct {
	manifest *wire.Manifest
	digest   Digest
	infos    map[string]engine.AdditiveInfo // as the engine gets them
}

func newKnown(m *wire.Manifest, digest Digest) *known {
	k := &known{manifest: m, digest: digest, infos: make(map[string]engine.AdditiveInfo, len(m.Owns))}
	for _, a := range m.Owns {
		a.Plugin = engine.PluginOrigin{Name: m.Name, Version: m.Version, Digest: digest.String()}
		a.Grants = m.Wants
		k.infos[a.ID] = a
	}
	return k
}
