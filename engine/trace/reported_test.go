package trace_test

import (
	"math"
	"testing"

	"lixivium.example/engine/trace"
)

// report is a time to thin trace as makers report it (trade tutorials, an old
// household book; none measured under stated conditions). What the report
// leaves open is counted in: each open input runs over what practice has for
// it. The middle of all open inputs must give a band that holds the middle of
// the report; the whole report must lie between the least low and the most high
// end of all corners.
type report struct {
	name      string
	fats      grams
	low, high float64 // minutes
	byHand    bool
	mixC      span
	strength  span
	superfat  span
	freeAcid  span
}

type span [2]float64

func (s span) at(share float64) float64 { return s[0] + (s[1]-s[0])*share }

var (
	usualMixC     = span{27, 49} // °C, tutorials 38-49, room-temperature mixing and premade lye down to 27
	usualStrength = span{28, 38} // percent
	usualSuperfat = span{3, 8}   // percent
	refined       = span{0, 0.3} // percent free fatty acid
)

func reports(t *testing.T) []report {
	mixed := grams{"olive-oil": 450, "coconut-oil": 250, "palm-oil": 250, "castor-oil": 50}
	// fats at 37, lye at 25 °C (household table); 13 oz of lye in 2.5 pints of water to 6 lb of fat, from memory
	cool, known := trace.MixTemperature(2722, 37, 1550, 25, 24)
	// liquid oils at 20-30 °C, fresh lye at 70-90: 122 g soda in 250 g water to 1 kg
	warm, known1 := trace.MixTemperature(1000, 20, 372, 70, 33)
	hottest, known2 := trace.MixTemperature(1000, 30, 372, 90, 33)
	if !known || !known1 || !known2 {
		t.Fatal("a mix has no temperature")
	}
	return []report{
		{"household lard, spoon", grams{"lard": 1000}, 10, 20, true,
			span{cool, cool + 8}, span{24, 30}, span{0, 5}, span{0.5, 3}}, // not refined: some free acid
		{"mixed oils, spoon or whisk", mixed, 20, 60, true, usualMixC, usualStrength, usualSuperfat, refined},
		{"mixed oils, stick blender", mixed, 1, 5, false, usualMixC, usualStrength, usualSuperfat, refined},
		{"94 % olive, hot lye, 25 % water on fats", grams{"olive-oil": 940, "castor-oil": 60}, 5, 5, false,
			span{warm, hottest}, span{32.5, 34}, usualSuperfat, refined},
		// "under 1 minute, even after a burst of 5 s"; unrefined butters carry some free acid
		{"80-90 % hard or fast fats, stick blender", grams{"palm-oil": 400, "coconut-oil": 300, "cocoa-butter": 150, "olive-oil": 150}, 0.5, 1, false,
			span{38, 49}, span{30, 40}, usualSuperfat, span{0, 1}},
	}
}

func (r report) batch(t *testing.T, shares [4]float64) trace.Batch {
	b := of(t, r.fats)
	b.HandStirred = r.byHand
	b.MixC = r.mixC.at(shares[0])
	b.StrengthPct = r.strength.at(shares[1])
	b.SuperfatPct = r.superfat.at(shares[2])
	b.FreeAcidPct = r.freeAcid.at(shares[3])
	return b
}

func TestReportedTimesLieInTheBand(t *testing.T) {
	for _, r := range reports(t) {
		middle := trace.Estimate(r.batch(t, [4]float64{0.5, 0.5, 0.5, 0.5})).Thin
		if m := math.Sqrt(r.low * r.high); m < middle.Low || m > middle.High {
			t.Errorf("%s: reported about %.3g minutes, the band is %.3v", r.name, m, middle)
		}
		low, high := math.Inf(1), 0.0
		for corner := range 16 {
			var shares [4]float64
			for i := range shares {
				shares[i] = float64(corner >> i & 1)
			}
			b := trace.Estimate(r.batch(t, shares)).Thin
			low, high = math.Min(low, b.Low), math.Max(high, b.High)
		}
		if low > r.low || high < r.high {
			t.Errorf("%s: reported %g-%g minutes, with open inputs the band is %.3g-%.3g", r.name, r.low, r.high, low, high)
		}
		t.Logf("%s: reported %g-%g, middle %.3v, all open inputs %.3g-%.3g", r.name, r.low, r.high, middle, low, high)
	}
}

// A temperature that is not stated is counted into the band by Estimate itself.
func TestReportedTimesWithTheTemperatureLeftOpen(t *testing.T) {
	for _, r := range reports(t)[1:] { // the lard table states its temperatures
		b := r.batch(t, [4]float64{0.5, 0.5, 0.5, 0.5})
		b.MixKnown = false
		got := trace.Estimate(b).Thin
		if m := math.Sqrt(r.low * r.high); m < got.Low || m > got.High {
			t.Errorf("%s: reported about %.3g minutes, the band is %.3v", r.name, m, got)
		}
	}
}
