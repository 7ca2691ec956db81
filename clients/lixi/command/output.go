package command

import (
	"bytes"
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	"lixivium.example/clients/lixi/sheet"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// output is how a command was asked to print.
type output struct {
	json bool
	unit string
	call
}

func (o *output) flags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&o.json, "json", false, "print the answer message as JSON, names as in the contract")
	cmd.Flags().StringVar(&o.unit, "unit", "g", "unit written large: g or oz; the other stands in brackets")
}

// call is what is asked of a call itself, whatever the command.
type call struct {
	request   bool // print the request and do not ask
	worksheet bool
}

func (c *call) flags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&c.worksheet, "worksheet", false, "add every line of the reckoning; lixi explain shows how they hang together")
	cmd.Flags().BoolVar(&c.request, "request", false, "print the request message as JSON, as it would be sent, and do not ask")
}

// reckoning is the worksheet below a sheet, where it was asked for.
func (c *call) reckoning(lines []*lixiviumv1.WorksheetLine) string {
	if !c.worksheet {
		return ""
	}
	return "\nWORKSHEET\n" + sheet.Figures(lines)
}

// options gives what a sheet takes.
func (o *output) options(recipe *lixiviumv1.Recipe, balances []*lixiviumv1.Balance) sheet.Options {
	options := sheet.Options{Recipe: recipe, Balances: balances}
	if o.unit == "oz" {
		options.Unit = sheet.Ounces
	}
	return options
}

// check refuses a unit that is none.
func (o *output) check() error {
	if o.unit != "g" && o.unit != "oz" {
		return refused(fmt.Sprintf("--unit %q is no unit of a sheet", o.unit), "write --unit g or --unit oz")
	}
	return nil
}

// answerJSON writes a message with the contract's names. Numbers and lists that are
// zero or empty are written too, so that a reader need not know defaults. The
// library varies its white space on purpose; ours does not vary.
func answerJSON(m proto.Message) (string, error) {
	raw, err := protojson.MarshalOptions{UseProtoNames: true, EmitDefaultValues: true}.Marshal(m)
	if err != nil {
		return "", err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, raw, "", "  "); err != nil {
		return "", err
	}
	b.WriteByte('\n')
	return b.String(), nil
}

// hasDanger tells whether a finding says not to use the batch.
func hasDanger(findings []*lixiviumv1.Finding, superfat *lixiviumv1.Superfat) bool {
	for _, f := range findings {
		if f.GetSeverity() == lixiviumv1.Severity_SEVERITY_DANGER {
			return true
		}
	}
	return superfat.GetVerdict() == lixiviumv1.Severity_SEVERITY_DANGER
}

func (env *environment) printJSON(m proto.Message) error {
	text, err := answerJSON(m)
	if err != nil {
		return err
	}
	return env.print(text)
}
