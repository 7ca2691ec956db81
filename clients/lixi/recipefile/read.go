package recipefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/proto"
)

// formatKey is the key that every file carries beside the request's fields.
const formatKey = "recipe_format"

// Read fills a request message from a file's bytes. The name is the one shown
// in messages. The keys of elsewhere are valid in files for other requests:
// their text tells where they belong, and without a text they are left unread,
// which Places.Has tells. The error is a *Problems; the message is then filled
// in part and of no use. A variant is refused: ReadVariant takes it.
func Read(name string, data []byte, into proto.Message, elsewhere map[string]string) (*Places, error) {
	return ReadVariant(nil, name, data, into, elsewhere)
}

// ReadVariant is Read for files that may be variants of a base. Open reads the
// base.
func ReadVariant(open Opener, name string, data []byte, into proto.Message, elsewhere map[string]string) (*Places, error) {
	r := &reader{
		open:      open,
		file:      name,
		elsewhere: elsewhere,
		places:    &Places{file: name, at: map[string]place{}, noted: map[string]string{}},
	}
	return r.read(data, into)
}

// read fills a message and gives the places, or everything that is wrong.
func (r *reader) read(data []byte, into proto.Message) (*Places, error) {
	if root := r.document(data); root != nil {
		r.top(root, into.ProtoReflect())
	}
	if len(r.problems) > 0 {
		slices.SortStableFunc(r.problems, func(a, b Problem) int {
			if a.File != b.File {
				return strings.Compare(a.File, b.File) // this file has no name here: it comes first
			}
			if a.Line != b.Line {
				return a.Line - b.Line
			}
			return a.Column - b.Column
		})
		return nil, &Problems{File: r.file, List: r.problems, More: r.more}
	}
	return r.places, nil
}

// reader collects what one file holds and what is wrong with it.
type reader struct {
	prices    bool   // a price file; else a recipe file
	open      Opener // nil: no base can be read
	file      string
	files     map[*yaml.Node]string // of nodes that come from a base
	elsewhere map[string]string
	places    *Places
	problems  []Problem
	more      bool
}

func (r *reader) full() bool { return r.more }

func (r *reader) problem(n *yaml.Node, path, text, next string) {
	p := Problem{Path: path, Text: text, Next: next}
	if n != nil {
		p.Line, p.Column, p.File = n.Line, n.Column, r.files[n]
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
	text, bad := plainText(data, r.kind())
	if bad != nil {
		r.add(*bad)
		return nil
	}
	decoder := yaml.NewDecoder(bytes.NewReader(text))
	var first, second yaml.Node
	err := decoder.Decode(&first)
	if errors.Is(err, io.EOF) || err == nil && isNull(first.Content[0]) {
		r.problem(nil, "", "the file is empty", "begin with "+r.kind().begin)
		return nil
	}
	if err != nil {
		r.unreadable(err)
		return nil
	}
	switch err := decoder.Decode(&second); {
	case err == nil:
		r.problem(&second, "", "a second document begins here", "keep one "+r.kind().holds+" a file: take out the line `---` and what follows it")
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
	if strings.HasPrefix(text, "exceeded max") {
		p = Problem{Line: p.Line, Column: 1, Text: "lists and maps are nested without end here", Next: "close each bracket and brace; a recipe needs some ten levels"}
	}
	if unknownAnchor.MatchString(text) {
		p = Problem{Text: p.Text, Next: "write the value out; " + r.kind().noun + "s have no anchors and aliases"}
	}
	r.add(p)
}

// takeFormat checks the format number and gives the pairs that remain.
func (r *reader) takeFormat(root *yaml.Node) []pair {
	var rest []pair
	seen := false
	for _, p := range r.pairs("", root) {
		if p.key.Value != r.kind().formatKey {
			rest = append(rest, p)
			continue
		}
		seen = true
		if p.value.Value != strconv.Itoa(Format) || p.value.Kind != yaml.ScalarNode || quoted(p.value) {
			r.problem(p.value, r.kind().formatKey, fmt.Sprintf("format %s; this lixi understands format %d only", describe(p.value), Format),
				fmt.Sprintf("write `%s: %d`, or use a lixi that reads this format", r.kind().formatKey, Format))
		}
	}
	if !seen {
		r.problem(root, "", "the key "+r.kind().formatKey+" is missing", fmt.Sprintf("put `%s: %d` at the top: it says how the file is to be read", r.kind().formatKey, Format))
	}
	return rest
}
