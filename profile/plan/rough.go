package plan

import (
	"math"

	"spindlestick/profile"
	"spindlestick/profile/sizing"
)

// Cylinder is a stretch to be roughed to a cylinder, mm from the hook end; it may reach into the waste.
type Cylinder struct {
	From, To float64
	Diameter float64
	// Short is true where the blank leaves less than the sizing allowance over the largest part.
	Short bool
}

// cylinders returns the stretches between the squares and shoulders, each as large as its largest part needs.
func cylinders(p profile.Pattern, b Blank, o Options) []Cylinder {
	var out []Cylinder
	open := false
	for _, e := range p.Elements {
		if squared(e.Kind) {
			open = false
			continue
		}
		if !open {
			out = append(out, Cylinder{From: e.X0})
			open = true
		}
		c := &out[len(out)-1]
		c.To = e.X1
		c.Diameter = math.Max(c.Diameter, sizing.Highest(e, e.X0, e.X1))
	}
	for i := range out {
		c := &out[i]
		want := c.Diameter + o.Allowance
		c.Diameter = math.Min(want, b.Side)
		c.Short = want > b.Side+equal
		if c.From == 0 {
			c.From = -b.Waste[0]
		}
		if c.To == p.Length {
			c.To += b.Waste[1]
		}
	}
	return out
}

// squared reports whether a part keeps something of the blank's square.
func squared(k profile.Kind) bool { return k == profile.Square || k == profile.Shoulder }

// roughAt is the diameter of the rough cylinder at a station, mm; where there is none, that of the blank.
func roughAt(cs []Cylinder, b Blank, x float64) float64 {
	for _, c := range cs {
		if x >= c.From && x <= c.To {
			return c.Diameter
		}
	}
	return b.Side
}
