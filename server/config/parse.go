package config

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
	"go.yaml.in/yaml/v3"
)

// Parse reads the text of a configuration file; name is for messages. What the
// text leaves out keeps its default.
func Parse(name string, text []byte) (Config, error) {
	p := &parser{file: name, config: Default()}
	decoder := yaml.NewDecoder(bytes.NewReader(text))
	var document yaml.Node
	switch err := decoder.Decode(&document); {
	case errors.Is(err, io.EOF):
		return p.config, nil // empty, or nothing but comments
	case err != nil:
		return Config{}, syntaxError(name, text, err)
	}
	var second yaml.Node
	if err := decoder.Decode(&second); !errors.Is(err, io.EOF) {
		if err != nil {
			return Config{}, syntaxError(name, text, err)
		}
		p.fail(&second, "a second document begins here; the file holds one. Delete the line of dashes or what follows it.")
	}
	p.keys(document.Content[0], "", p.topLevel())
	if len(p.problems) > 0 {
		return Config{}, errors.Join(p.problems...)
	}
	return p.config, nil
}

// lineOf finds the place in a message of the YAML library, which tells no
// column.
var lineOf = regexp.MustCompile(`^yaml: line (\d+): (.*)$`)

func syntaxError(name string, text []byte, err error) error {
	// The commonest fault by far, which the library tells least well.
	for i, line := range bytes.Split(text, []byte("\n")) {
		indentation := line[:len(line)-len(bytes.TrimLeft(line, " \t"))]
		if tab := bytes.IndexByte(indentation, '\t'); tab >= 0 {
			return fmt.Errorf("%s:%d:%d: a tab indents this line; YAML wants spaces", name, i+1, tab+1)
		}
	}
	if m := lineOf.FindStringSubmatch(err.Error()); m != nil {
		return fmt.Errorf("%s:%s: the YAML cannot be read: %s. Check indentation and colons there and on the line before", name, m[1], m[2])
	}
	return fmt.Errorf("%s: the YAML cannot be read: %s", name, strings.TrimPrefix(err.Error(), "yaml: "))
}

// parser walks the nodes, because only they tell line and column.
type parser struct {
	file     string
	config   Config
	problems []error
}

func (p *parser) place(n *yaml.Node) string {
	return fmt.Sprintf("%s:%d:%d", p.file, n.Line, n.Column)
}

func (p *parser) fail(n *yaml.Node, format string, args ...any) {
	p.problems = append(p.problems, fmt.Errorf("%s: %s", p.place(n), fmt.Sprintf(format, args...)))
}

// entry is a key that may be set and what reads its value.
type entry struct {
	key string
	set func(*yaml.Node)
}

// keys reads a mapping; under is the key it stands below, empty for the file.
func (p *parser) keys(n *yaml.Node, under string, entries []entry) {
	valid := make([]string, len(entries))
	for i, e := range entries {
		valid[i] = e.key
	}
	if n.Kind != yaml.MappingNode {
		if n.Tag == "!!null" {
			return // the key is there, everything below it left out
		}
		p.fail(n, "%s holds keys and values (%s), not %s", orFile(under), strings.Join(valid, ", "), kindOf(n))
		return
	}
	seen := map[string]*yaml.Node{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		at := slices.IndexFunc(entries, func(e entry) bool { return e.key == key.Value })
		first := seen[key.Value]
		seen[key.Value] = key
		switch {
		case at < 0:
			p.fail(key, "%q is no key of %s.%s Keys: %s", key.Value, orFile(under), nearest(key.Value, valid), strings.Join(valid, ", "))
		case first != nil:
			p.fail(key, "%q stands here a second time, first on line %d. Keep one of them", key.Value, first.Line)
		default:
			entries[at].set(value)
		}
	}
}

func orFile(under string) string {
	if under == "" {
		return "this file"
	}
	return under
}

func kindOf(n *yaml.Node) string {
	switch n.Kind {
	case yaml.SequenceNode:
		return "a list"
	case yaml.MappingNode:
		return "keys"
	case yaml.AliasNode:
		return "a reference to another place (*" + n.Value + ")"
	}
	if n.Tag == "!!null" {
		return "nothing"
	}
	return fmt.Sprintf("%q", n.Value)
}

// nearest suggests the valid name closest in spelling, when one is close.
func nearest(name string, valid []string) string {
	best, distance := "", 3
	for _, v := range valid {
		if d := levenshtein.ComputeDistance(name, v); d < distance {
			best, distance = v, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf(" Did you mean %q?", best)
}
