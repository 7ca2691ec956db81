package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	"lixivium.example/clients/lixi/command"
	"lixivium.example/clients/lixi/recipefile"
	"lixivium.example/plugins/acids"
	"lixivium.example/plugins/clays"
	"lixivium.example/plugins/sdk/inprocess"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/app"
	"lixivium.example/server/config"
	"lixivium.example/server/listen"
)

// badDoors are a lixiviumd with its usual limits, and what calls have been put to it.
type badDoors struct {
	address string
	calls   []recordedCall
}

type recordedCall struct {
	name string
	err  error
}

func openDoors(t *testing.T) *badDoors {
	t.Helper()
	rules, err := inprocess.New(acids.Plugin(), clays.Plugin())
	if err != nil {
		t.Fatal(err)
	}
	service, err := app.New(app.Options{Additives: rules})
	if err != nil {
		t.Fatal(err)
	}
	server, err := listen.Open(t.Context(), "127.0.0.1:0", service, listen.LimitsOf(config.Default()))
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- server.Serve() }()
	t.Cleanup(func() {
		server.Stop()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	return &badDoors{address: server.Address()}
}

// connect is the way to the server that lixi --server takes, with an ear at it.
func (d *badDoors) connect(command.Place) (command.Service, io.Closer, error) {
	return app.Dial(d.address, grpc.WithUnaryInterceptor(
		func(ctx context.Context, method string, q, a any, cc *grpc.ClientConn, invoke grpc.UnaryInvoker, o ...grpc.CallOption) error {
			err := invoke(ctx, method, q, a, cc, o...)
			d.calls = append(d.calls, recordedCall{path.Base(method), err})
			return err
		}))
}

// knock puts a row to both doors and gives what they answered, as it stands in the table.
func (d *badDoors) knock(t *testing.T, r *badRow) (yaml, grpc string) {
	t.Helper()
	d.calls = nil
	switch {
	case r.alone:
		yaml = "no file in this row\n"
	default:
		yaml = d.run(t, r)
	}
	if len(r.sends) > 0 || r.build != "" {
		d.send(t, r)
	}
	if len(d.calls) == 0 {
		return yaml, "refused before a call is made\n"
	}
	return yaml, told(d.calls[len(d.calls)-1], yaml)
}

// run is lixi with the row's file in a folder that holds the files it may be laid over or costed with.
func (d *badDoors) run(t *testing.T, r *badRow) string {
	t.Helper()
	folder := t.TempDir()
	for _, name := range []string{"plain-bar.yaml", "plain-prices.yaml"} {
		data, err := os.ReadFile(badFolder + name)
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(folder, name), data)
	}
	write(t, filepath.Join(folder, r.file), []byte(r.text))
	t.Chdir(folder)
	var out, errs bytes.Buffer
	code := command.Run(t.Context(), r.args, command.Streams{In: strings.NewReader(""), Out: &out, Err: &errs}, d.connect)
	switch {
	case code == command.ExitFine && errs.Len() == 0:
		return "accepted\n"
	case code == command.ExitDanger && errs.Len() == 0:
		return "accepted, with a danger finding\n"
	case out.Len() > 0:
		t.Errorf("output beside the refusal: %s", &out)
	}
	text := strings.ReplaceAll("\n"+errs.String(), "\nlixi: ", "\n")[1:]
	if code != command.ExitRefused {
		text = fmt.Sprintf("exit code %d\n%s", code, text)
	}
	return text
}

func write(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// told is the refusal of a call as it stands in the table. Words that lixi printed are not repeated.
func told(c recordedCall, printed string) string {
	r := app.ReadRefusal(c.err)
	if r.Code == codes.OK {
		return c.name + " OK\n"
	}
	same := func(text string) string {
		if strings.Contains(printed, text) {
			return ", the same words\n"
		}
		return ": " + text + "\n"
	}
	var b strings.Builder
	b.WriteString(strings.TrimSpace(c.name + " " + codeName(r.Code) + " " + r.Reason))
	if len(r.Violations) == 0 {
		b.WriteString(same(r.Text))
	} else {
		b.WriteString("\n")
	}
	for _, v := range r.Violations {
		b.WriteString(v.Path + " " + v.Reason + same(v.Text))
		if len(v.Suggestions) > 0 {
			b.WriteString("  suggested: " + strings.Join(v.Suggestions, ", ") + "\n")
		}
	}
	if list := r.Metadata["suggestions"]; list != "" {
		b.WriteString("  suggested: " + list + "\n")
	}
	if left := r.Metadata["violations_left_out"]; left != "" {
		b.WriteString("left out: " + left + "\n")
	}
	return b.String()
}

// codeName writes INVALID_ARGUMENT for InvalidArgument, as documents of gRPC do.
func codeName(c codes.Code) string {
	return strings.ToUpper(regexp.MustCompile(`([a-z])([A-Z])`).ReplaceAllString(c.String(), "${1}_$2"))
}

// send puts a message to the server: the plain bar with fields set, or one that is generated.
func (d *badDoors) send(t *testing.T, r *badRow) {
	t.Helper()
	bar, err := os.ReadFile(badFolder + "plain-bar.yaml")
	if err != nil {
		t.Fatal(err)
	}
	q := &lixiviumv1.FormulateRequest{}
	if _, err := recipefile.Read("plain-bar.yaml", bar, q, nil); err != nil {
		t.Fatal(err)
	}
	if r.build != "" {
		generators[r.build](q)
	}
	var request proto.Message = q
	switch r.call {
	case "Scale":
		request = &lixiviumv1.ScaleRequest{Recipe: q.Recipe}
	case "ReconcileWeights":
		request = &lixiviumv1.ReconcileWeightsRequest{Recipe: q.Recipe}
	case "Cost":
		request = &lixiviumv1.CostRequest{Recipes: []*lixiviumv1.CostedRecipe{{Recipe: q.Recipe, Terms: &lixiviumv1.CostTerms{SaleableBars: 10}}}, AllowPartial: true}
	}
	for _, s := range r.sends {
		at, value, _ := strings.Cut(s, " = ")
		if err := set(request.ProtoReflect(), at, value); err != nil {
			t.Fatalf("%s: %v", s, err)
		}
	}
	service, closer, err := d.connect(command.Place{})
	if err != nil {
		t.Fatal(err)
	}
	defer closer.Close() //nolint:errcheck // the answer is what counts
	switch q := request.(type) {
	case *lixiviumv1.FormulateRequest:
		_, _ = service.Formulate(t.Context(), q)
	case *lixiviumv1.ScaleRequest:
		_, _ = service.Scale(t.Context(), q)
	case *lixiviumv1.ReconcileWeightsRequest:
		_, _ = service.ReconcileWeights(t.Context(), q)
	case *lixiviumv1.CostRequest:
		_, _ = service.Cost(t.Context(), q)
	}
}

var indexed = regexp.MustCompile(`^(\w+)\[(\d+)\]$`)

// set gives a field a value in the JSON of protobuf; messages on the way are made.
func set(m protoreflect.Message, at, value string) error {
	step, rest, below := strings.Cut(at, ".")
	index := -1
	if parts := indexed.FindStringSubmatch(step); parts != nil {
		step = parts[1]
		index, _ = strconv.Atoi(parts[2])
	}
	fd := m.Descriptor().Fields().ByName(protoreflect.Name(step))
	switch {
	case fd == nil:
		return fmt.Errorf("%s has no field %q", m.Descriptor().Name(), step)
	case !below && index < 0:
		one := m.New().Interface()
		if err := protojson.Unmarshal([]byte(`{"`+step+`": `+value+`}`), one); err != nil {
			return err
		}
		m.Clear(fd)
		if one.ProtoReflect().Has(fd) {
			m.Set(fd, one.ProtoReflect().Get(fd))
		}
		return nil
	case index < 0:
		return set(m.Mutable(fd).Message(), rest, value)
	}
	list := m.Mutable(fd).List()
	for list.Len() <= index {
		list.AppendMutable()
	}
	return set(list.Get(index).Message(), rest, value)
}

// generators make messages that are too large to write out.
var generators = map[string]func(*lixiviumv1.FormulateRequest){
	"5 MB name": func(q *lixiviumv1.FormulateRequest) { q.Recipe.Name = strings.Repeat("x", 5<<20) },
	"1000 fats": func(q *lixiviumv1.FormulateRequest) { manyFats(q, 1000) },
	"1001 fats": func(q *lixiviumv1.FormulateRequest) { manyFats(q, 1001) },
	"premix in premix, 1000 deep": func(q *lixiviumv1.FormulateRequest) {
		inner := q.Recipe.Fats[0]
		inner.Amount = &lixiviumv1.FatLine_ShareOfFatsPct{ShareOfFatsPct: 100}
		for range 1000 {
			inner = &lixiviumv1.FatLine{
				Id: "p", Kind: &lixiviumv1.FatLine_Premix{Premix: &lixiviumv1.Premix{Name: "p", Fats: []*lixiviumv1.FatLine{inner}}},
				Amount: &lixiviumv1.FatLine_ShareOfFatsPct{ShareOfFatsPct: 100},
			}
		}
		inner.Amount = &lixiviumv1.FatLine_Mass{Mass: &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: 700}}}
		q.Recipe.Fats[0] = inner
	},
}

func manyFats(q *lixiviumv1.FormulateRequest, n int) {
	q.Recipe.Fats = nil
	for i := range n {
		q.Recipe.Fats = append(q.Recipe.Fats, &lixiviumv1.FatLine{
			Id: fmt.Sprint("f", i), Kind: &lixiviumv1.FatLine_Fat{Fat: "olive-oil"},
			Amount: &lixiviumv1.FatLine_Mass{Mass: &lixiviumv1.Quantity{Amount: &lixiviumv1.Quantity_G{G: 1}}},
		})
	}
}
