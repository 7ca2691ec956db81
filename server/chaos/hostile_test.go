//go:build chaos

package chaos_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"lixivium.example/plugins/sdk"
)

// An order is a file named order-KIND-NUMBER in the hostile plugin's folder. The
// call that finds it first renames it to taken-KIND-NUMBER and does what it
// says, once. So a question is honestly answered when it is asked again, and the
// tests see that the harm was done.
const (
	orderPrefix = "order-"
	takenPrefix = "taken-"
)

// The kinds of orders.
const (
	orderBounds  = "bounds"  // lies: more water than a gram holds
	orderRight   = "right"   // lies: moves alkali without the right to
	orderNaN     = "nan"     // lies: a figure that is no number
	orderOther   = "other"   // lies: about a dose that was not asked
	orderSilence = "silence" // lies: leaves a dose out
	orderPanic   = "panic"   // takes the process down
	orderLinger  = "linger"  // answers late but in time
	orderLate    = "late"    // answers after its deadline
	orderFork    = "fork"    // leaves a child behind; its pid stands in the taken file
	orderStderr  = "stderr"  // floods standard error
	orderStdout  = "stdout"  // floods standard output, the pipe of the handshake
	orderEat     = "eat"     // takes more memory than it may
)

var lies = []string{orderBounds, orderRight, orderNaN, orderOther, orderSilence}

// hostile is a plugin with one honest rule. In the process of the tests it is
// its own twin; as a plugin it also obeys.
func hostile(before func(*sdk.Answer)) *sdk.Plugin {
	return &sdk.Plugin{
		Name: "hostile", Version: "1.0.0",
		Wants: []sdk.Grant{sdk.GrantWater, sdk.GrantTrace, sdk.GrantFindings},
		Owns: []sdk.Additive{{
			ID: "hostile-powder", Name: "Powder", LowOfFatsPct: 0.5, HighOfFatsPct: 3, UsualStage: sdk.StageTrace,
		}},
		Adjust: func(_ context.Context, q sdk.Question) sdk.Answer {
			a := q.Each(func(d sdk.Dose) (sdk.Adjustment, *sdk.Rejection) {
				return sdk.Adjustment{
					BoundWaterGPerG: 0.25 + d.OfFatsPct/100, DensityGPerML: 1.5,
					TraceTime: sdk.Band{Low: 0.9, Typical: 0.95, High: 1},
					Basis:     sdk.Estimate, Source: "made up for this test",
					Steps: []sdk.Step{{Stage: sdk.StageTrace, Code: "stir-in", Text: "Stir it in."}},
				}, nil
			})
			before(&a)
			return a
		},
		Review: func(_ context.Context, b sdk.Batch) []sdk.Finding {
			return []sdk.Finding{{
				Code: "hostile/seen", Severity: sdk.Note, Text: "It was looked at.", Basis: sdk.Estimate, Source: "made up for this test",
				Numbers: map[string]float64{"total_water_g": b.TotalWaterG},
			}}
		},
	}
}

// honest is before of the twin.
func honest(*sdk.Answer) {}

// obey takes one order, if there is one.
func obey(a *sdk.Answer) {
	folder := os.Getenv("LIXIVIUM_PLUGIN_FOLDER")
	orders, _ := filepath.Glob(filepath.Join(folder, orderPrefix+"*"))
	for _, order := range orders {
		kind := strings.TrimPrefix(filepath.Base(order), orderPrefix)
		taken := filepath.Join(folder, takenPrefix+kind)
		if os.Rename(order, taken) != nil {
			continue // another call was first
		}
		kind, _, _ = strings.Cut(kind, "-")
		misbehave(kind, taken, a)
		return
	}
}

func misbehave(kind, taken string, a *sdk.Answer) {
	switch kind {
	case orderBounds:
		a.Adjustments[0].WaterGPerG = 1.5
	case orderRight:
		a.Adjustments[0].AlkaliMolPerG = 0.001
	case orderNaN:
		a.Adjustments[0].BoundWaterGPerG = math.NaN()
	case orderOther:
		a.Adjustments[0].DoseID = "somebody-else"
	case orderSilence:
		a.Adjustments = a.Adjustments[1:]
	case orderPanic:
		go panic("a rule outside its call")
		time.Sleep(time.Second)
	case orderLinger:
		time.Sleep(time.Second)
	case orderLate:
		time.Sleep(4 * time.Second)
	case orderFork:
		child := exec.Command("/bin/sh", "-c", "sleep 120 & sleep 120")
		if err := child.Start(); err == nil {
			_ = os.WriteFile(taken, fmt.Appendln(nil, child.Process.Pid), 0o600)
		}
	case orderStderr:
		flood(os.Stderr)
	case orderStdout:
		flood(handshakePipe())
	case orderEat:
		go eat()
	}
}

// flood writes 32 MiB in lines long and short.
func flood(to *os.File) {
	text := []byte(strings.Repeat("a long complaint ", 1<<12) + "\n" + strings.Repeat("short\n", 1<<10))
	for n := 0; n < 32<<20; n += len(text) {
		if _, err := to.Write(text); err != nil {
			return
		}
	}
}

// handshakePipe finds the pipe to the host that the SDK keeps for the handshake.
func handshakePipe() *os.File {
	errs, _ := os.Readlink("/proc/self/fd/2")
	files, _ := filepath.Glob("/proc/self/fd/*")
	for _, name := range files {
		link, _ := os.Readlink(name)
		if n := filepath.Base(name); len(n) > 0 && n != "0" && strings.HasPrefix(link, "pipe:") && link != errs {
			if f, err := os.OpenFile(name, os.O_WRONLY, 0); err == nil {
				return f
			}
		}
	}
	panic("the handshake has no pipe")
}

// eat takes 400 MiB beside its calls, as a leak does, and holds it; the host lets
// it have 256. Where memory comes slowly it may be replaced before it has enough.
func eat() {
	var held [][]byte
	for range 100 {
		b := make([]byte, 4<<20)
		for i := 0; i < len(b); i += 4096 {
			b[i] = 1
		}
		held = append(held, b)
	}
	time.Sleep(10 * time.Second)
	runtime.KeepAlive(held)
}
