package command

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"google.golang.org/grpc/codes"

	"lixivium.example/clients/lixi/recipefile"
	"lixivium.example/clients/lixi/sheet"
	"lixivium.example/server/app"
)

// failure is why a command has no result: the exit code, and what to tell.
type failure struct {
	exit  int
	items []item
}

// item is one thing wrong and what to do about it; next may be empty.
type item struct{ what, next string }

func (f *failure) Error() string {
	words := make([]string, len(f.items))
	for i, x := range f.items {
		words[i] = x.what
	}
	return strings.Join(words, "; ")
}

// print writes the failure. Names in it may be a file's or a server's, so that
// nothing in it may act on the terminal.
func (f *failure) print(w io.Writer) {
	var b strings.Builder
	for _, x := range f.items {
		b.WriteString("lixi: " + sheet.Plain(x.what) + "\n")
		if x.next != "" {
			b.WriteString("  next: " + sheet.Plain(x.next) + "\n")
		}
	}
	_, _ = io.WriteString(w, b.String()) // nobody is left to tell
}

func refused(what, next string) error {
	return &failure{exit: ExitRefused, items: []item{{what, next}}}
}

// asFailure turns any error of a command into what to print.
func asFailure(err error) *failure {
	var f *failure
	if errors.As(err, &f) {
		return f
	}
	var bad *recipefile.Problems
	if errors.As(err, &bad) {
		return ofFile(bad)
	}
	return &failure{exit: ExitServer, items: []item{{err.Error(), ""}}}
}

// ofFile tells every problem of a recipe file.
func ofFile(bad *recipefile.Problems) *failure {
	f := &failure{exit: ExitRefused}
	for i, p := range bad.List {
		f.items = append(f.items, item{bad.What(i), p.Next})
	}
	if bad.More {
		f.items = append(f.items, item{fmt.Sprintf("%s: there is more that is wrong", bad.File), "put these right first"})
	}
	return f
}

// ofCall turns the error of a call into what to print. Places tells where the
// fields of the request came from; nil when there was no file.
func ofCall(err error, places *recipefile.Places, env *environment) error {
	var f *failure
	if errors.As(err, &f) {
		return f
	}
	r := app.ReadRefusal(err)
	switch r.Code {
	case codes.InvalidArgument:
		return ofViolations(r, places)
	case codes.FailedPrecondition:
		return refused(r.Text, "change the recipe; nothing of this batch may be weighed out as it stands")
	case codes.NotFound, codes.OutOfRange, codes.AlreadyExists, codes.PermissionDenied, codes.Unauthenticated:
		return refused(r.Text, "")
	}
	text := r.Text
	if field := r.Metadata["field"]; field != "" && places != nil {
		text = places.Of(field) + ": " + field + ": " + text
	}
	return &failure{exit: ExitServer, items: []item{{text, env.afterTrouble(r)}}}
}

// afterTrouble says what to do when there is no answer.
func (env *environment) afterTrouble(r app.Refusal) string {
	switch {
	case r.Reason == "ADDITIVE_OWNER_MISSING" && r.Metadata["suggestions"] != "":
		return "write additive: " + strings.ReplaceAll(r.Metadata["suggestions"], ",", " or ") + " if that is meant; lixi catalog additives lists them all"
	case r.Reason == "ADDITIVE_OWNER_MISSING":
		return "give the dose your own figures under custom, or take it out"
	case r.Metadata["plugin"] != "":
		return "ask again; lixi plugins " + r.Metadata["plugin"] + " shows how it does"
	case r.Code == codes.Unavailable && env.server != "":
		return fmt.Sprintf("start lixiviumd, check --server %s, or leave --server out to work in this process", env.server)
	case r.Code == codes.DeadlineExceeded:
		return fmt.Sprintf("ask again; --timeout (now %s) gives it longer", env.timeout)
	case r.Code == codes.Canceled:
		return "nothing was kept; ask again when you like"
	case r.Code == codes.Internal && env.server == "":
		return "run it again with --log FILE: the file then holds the cause, for a report"
	case r.Code == codes.Unimplemented:
		return "this server is older than this lixi: update it, or leave --server out"
	}
	return "ask again; if it stays, the text above belongs in a report"
}

// ofViolations tells every violation at the place its field came from.
func ofViolations(r app.Refusal, places *recipefile.Places) *failure {
	f := &failure{exit: ExitRefused}
	for _, v := range r.Violations {
		where := v.Path + ": "
		if places != nil {
			where = places.Of(v.Path) + ": " + where
		}
		f.items = append(f.items, item{where + v.Text, ""})
	}
	if len(f.items) == 0 {
		f.items = []item{{r.Text, ""}}
	}
	return f
}
