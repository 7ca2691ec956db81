package command

import (
	"errors"
	"strings"
	"testing"
)

func TestPluginLists(t *testing.T) {
	for _, x := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"catalog", "additives"}, ExitFine, "rose-clay, Rose clay (plugin clays)"},
		{[]string{"catalog", "additives", "--json"}, ExitFine, `"plugin": "clays"`},
		{[]string{"plugins"}, ExitFine, "3 restarts"},
		{[]string{"plugins", "clays"}, ExitFine, "rose-clay"},
		{[]string{"plugins", "sugars"}, ExitRefused, `no plugin is named "sugars"`},
	} {
		code, out, err := run(t, &fake{}, "", x.args...)
		if code != x.code || !strings.Contains(out+strings.ReplaceAll(err, "  ", " "), x.want) && !strings.Contains(strings.ReplaceAll(out, "\":  ", "\": "), x.want) {
			t.Errorf("%v: exit %d\n%s%s", x.args, code, out, err)
		}
	}
	if code, _, _ := run(t, &fake{err: errors.New("down")}, "", "plugins"); code != ExitServer {
		t.Errorf("exit %d for a server in trouble", code)
	}
}
