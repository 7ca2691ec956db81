package recipefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/proto"
)

// formatKey is the key that every file carries beside the request's fields.
const formatKey = "recipe_format"

// Read fills a request message from a file's bytes. The name is the one shown
// in messages. The keys of elsewhere are valid in other files than this kind;
// their text tells where they belong. The error is a *Problems; the message is
// then filled in part and of no use.
func Read(name string, data []byte, into proto.Message, elsewhere map[string]string) (*Places, error) {
	r := &reader{
		file:      name,
		elsewhere: elsewhere,
		places:    &Places{file: name, at: map[string]place{}, noted: map[string]string{}},
	}
	if root := r.document(data); root != nil {
		r.top(root, into.ProtoReflect())
	}
	if len(r.problems) > 0 {
		slices.SortStableFunc(r.problems, func(a, b Problem) int {
			if a.Line != b.Line {
				return a.Line - b.Line
			}
			return a.Column - b.Column
		})
		return nil, &Problems{File: name, List: r.problems, More: r.more}
	}
	return r.places, nil
}

// reader collects what one file holds and what is wrong with it.
type reader struct {
	file      string
	elsewhere map[string]string
	places    *Places
	problems  []Problem
	more      bool
}

func (r *reader) full() bool { return r.more }

func (r *reader) problem(n *yaml.Node, path, text, next string) {
	p := Problem{Path: path, Text: text, Next: next}
	if n != nil {
		p.Line, p.Column = n.Line, n.Column
	}
	r.add(p)
}

func (r *reader) add(p Problem) {
	if len(r.problems) == MaxProblems {
		r.more = true
		return
	}
	r.problems = append(r.problems, p)
}

// document gives the root of the only document in the data.
func (r *reader) document(data []byte) *yaml.Node {
	text, bad := plainText(data)
	if bad != nil {
		r.add(*bad)
		return nil
	}
	decoder := yaml.NewDecoder(bytes.NewReader(text))
	var first, second yaml.Node
	err := decoder.Decode(&first)
	if errors.Is(err, io.EOF) || err == nil && isNull(first.Content[0]) {
		r.problem(nil, "", "the file is empty", "begin with `recipe_format: 1` and `recipe:`; lixi formulate --help shows an example")
		return nil
	}
	if err != nil {
		r.unreadable(err)
		return nil
	}
	switch err := decoder.Decode(&second); {
	case err == nil:
		r.problem(&second, "", "a second document begins here", "keep one recipe a file: take out the line `---` and what follows it")
		return nil
	case !errors.Is(err, io.EOF):
		r.unreadable(err)
		return nil
	}
	return first.Content[0]
}

var (
	yamlError     = regexp.MustCompile(`(?s)^yaml: (?:line (\d+): )?(.*)$`)
	unknownAnchor = regexp.MustCompile(`^unknown anchor`) // comes without a line
	// ofStructure are complaints for which the YAML library gives the line
	// before the one where the broken list or map begins.
	ofStructure = regexp.MustCompile(`^did not find expected (?:<|node|key|'-'|',')`)
)

// unreadable tells what the YAML library says in the form of a Problem.
func (r *reader) unreadable(err error) {
	p := Problem{Line: 1, Column: 1, Next: "look from this line on: spaces that indent, a space after each colon, quotes and brackets closed"}
	text := err.Error()
	if m := yamlError.FindStringSubmatch(text); m != nil {
		text = m[2]
		if line, err := strconv.Atoi(m[1]); err == nil {
			p.Line = line
			if ofStructure.MatchString(text) {
				p.Line++
			}
		}
	}
	p.Text = "this is no readable YAML: " + text
	if unknownAnchor.MatchString(text) {
		p = Problem{Text: p.Text, Next: "write the value out; recipe files have no anchors and aliases"}
	}
	r.add(p)
}

// takeFormat checks the format number and gives the pairs that remain.
func (r *reader) takeFormat(root *yaml.Node) []pair {
	var rest []pair
	seen := false
	for _, p := range r.pairs("", root) {
		if p.key.Value != formatKey {
			rest = append(rest, p)
			continue
		}
		seen = true
		if p.value.Value != strconv.Itoa(Format) || p.value.Kind != yaml.ScalarNode || quoted(p.value) {
			r.problem(p.value, formatKey, fmt.Sprintf("format %s; this lixi understands format %d only", describe(p.value), Format),
				fmt.Sprintf("write `recipe_format: %d`, or use a lixi that reads this format", Format))
		}
	}
	if !seen {
		r.problem(root, "", "the key recipe_format is missing", fmt.Sprintf("put `recipe_format: %d` at the top: it says how the file is to be read", Format))
	}
	return rest
}
