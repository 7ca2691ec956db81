package main

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/tools/txtar"
)

// badRow is a row of the table of bad input.
type badRow struct {
	name  string
	kinds []string
	text  string   // of the file
	alone bool     // there is no file, only a message
	file  string   // what it is called
	args  []string // of lixi
	sends []string // "path = value", for a message that no file can say
	build string   // a generator, for one that is too large to write out
	call  string   // of a message that is sent; empty: Formulate
}

// parseRow reads the first section of a row: lines that begin with "#: ", then the file.
func parseRow(section txtar.File) (*badRow, error) {
	r := &badRow{name: section.Name, file: "recipe.yaml", args: []string{"formulate", "recipe.yaml"}}
	body := string(section.Data)
	form := ""
	for strings.HasPrefix(body, "#: ") {
		var line string
		line, body, _ = strings.Cut(body, "\n")
		word, rest, _ := strings.Cut(strings.TrimPrefix(line, "#: "), " ")
		switch word {
		case "kind":
			r.kinds = append(r.kinds, rest)
		case "run":
			r.args = strings.Fields(rest)
		case "file":
			r.file = rest
		case "call":
			r.call = rest
		case "send":
			r.sends = append(r.sends, rest)
		case "build":
			r.build = rest
		case "change", "quoted", "message":
			form = word
		default:
			return nil, fmt.Errorf("no header is called %q", word)
		}
	}
	var err error
	switch form {
	case "message":
		r.alone = true
		if body != "" || len(r.sends) == 0 && r.build == "" {
			err = fmt.Errorf("a row of the message alone has #: send or #: build and no file")
		}
	case "quoted":
		r.text, err = unquoted(body)
	case "change":
		var bar []byte
		bar, err = os.ReadFile(badFolder + "plain-bar.yaml")
		r.text = changed(string(bar), body)
	default:
		r.text = body
	}
	return r, err
}

// changed lays lines over those of a file that begin in the same way: up to the colon, or, in a list, up to the comma
// behind the id. A list entry that is new goes behind the last one, another line to the end.
func changed(file, changes string) string {
	begin := func(line string) string {
		end := ":"
		if strings.HasPrefix(strings.TrimLeft(line, " "), "- ") {
			end = ","
		}
		before, _, _ := strings.Cut(line, end)
		return before + end
	}
	lines := strings.Split(strings.TrimSuffix(file, "\n"), "\n")
	for change := range strings.Lines(changes) {
		change = strings.TrimSuffix(change, "\n")
		at := slices.IndexFunc(lines, func(line string) bool { return begin(line) == begin(change) })
		switch {
		case at >= 0:
			lines[at] = change
		case strings.HasPrefix(change, "    - {id:"):
			last := 0
			for i, line := range lines {
				if strings.HasPrefix(line, "    - {id:") {
					last = i
				}
			}
			lines = slices.Insert(lines, last+1, change)
		default:
			lines = append(lines, change)
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

// unquoted reads lines that each hold a text in Go's quotes, or one repeated: "x" * 1000.
func unquoted(body string) (string, error) {
	var b strings.Builder
	for line := range strings.Lines(body) {
		text, times, repeated := strings.Cut(strings.TrimSpace(line), `" * `)
		n := 1
		if repeated {
			var err error
			if n, err = strconv.Atoi(times); err != nil {
				return "", err
			}
			text += `"`
		}
		s, err := strconv.Unquote(text)
		if err != nil {
			return "", fmt.Errorf("%s: %w", line, err)
		}
		b.WriteString(strings.Repeat(s, n))
	}
	return b.String(), nil
}
