package plan

import (
	"errors"
	"fmt"
	"math"

	"spindlestick/profile"
	"spindlestick/profile/sizing"
)

// Options choose what Make plans for. The zero value plans one copy from dry stock.
type Options struct {
	// Waste is left at the hook end and at the far end for the centres, mm. 0 = DefaultWaste, negative = none.
	Waste [2]float64
	// Allowance is left on the diameter by sizing cuts, mm. 0 = sizing.UsualAllowance.
	Allowance float64
	// Sanding is left on the diameter for sanding alone, mm. 0 = sizing.UsualSanding.
	Sanding float64
	// Group gathers sizing diameters within so many mm under one setting of the calipers. 0 = sizing.UsualGroup, negative =
	// equal diameters only.
	Group float64
	// Tool is the width of the parting tool, mm. 0 = sizing.UsualTool.
	Tool float64
	// Kerf is lost at each saw cut between blanks, mm. 0 = DefaultKerf.
	Kerf float64

	Copies  int       // 0 = 1
	Lengths []float64 // lengths in which the stock comes, mm; empty = DefaultLengths

	Species  string    // the wood by name, see Woods; empty = not said
	Moisture *Moisture // from the moisture turned at to that of use; nil = no allowance for movement
	TopSpeed float64   // the lathe's highest speed, rpm; 0 = not said
	Spacing  float64   // of balusters, middle to middle, mm; 0 = it is none
	// Tenons is how far a baluster's hook end and far end go into the rails, mm. 0 = what the pattern shows, negative =
	// nothing.
	Tenons [2]float64
}

// Moisture is a change of the wood's moisture content, in per cent of its dry weight.
type Moisture struct{ Turned, Use float64 }

// The values that stand where an option does not say.
const (
	// DefaultWaste is 1 in: it holds a drive centre's spurs and leaves the tool room to end its cut (common practice, no
	// source).
	DefaultWaste = profile.MMPerInch
	// DefaultKerf is a saw of 1/8 in (common practice, no source).
	DefaultKerf = profile.MMPerInch / 8
)

// DefaultLengths are 6, 8, 10 and 12 ft, mm (common practice, no source).
func DefaultLengths() []float64 {
	const foot = 12 * profile.MMPerInch
	return []float64{6 * foot, 8 * foot, 10 * foot, 12 * foot}
}

// ErrOption is wrapped by the errors about what was asked for.
var ErrOption = errors.New("plan")

const (
	most       = 1e5  // mm: a hundred metres, longer than any stock; larger figures are slips
	mostCopies = 1e5  // a larger number is a slip
	mostSpeed  = 1e5  // rpm, likewise
	mostKept   = 25.0 // mm of allowance on a diameter: beyond an inch it is no longer a sizing cut
)

func (o Options) withDefaults() (Options, error) {
	for i, w := range o.Waste {
		o.Waste[i] = otherwise(math.Max(0, w), w, DefaultWaste)
	}
	o.Group = otherwise(math.Max(0, o.Group), o.Group, sizing.UsualGroup)
	o.Allowance = otherwise(o.Allowance, o.Allowance, sizing.UsualAllowance)
	o.Sanding = otherwise(o.Sanding, o.Sanding, sizing.UsualSanding)
	o.Tool = otherwise(o.Tool, o.Tool, sizing.UsualTool)
	o.Kerf = otherwise(o.Kerf, o.Kerf, DefaultKerf)
	if o.Copies == 0 {
		o.Copies = 1
	}
	if len(o.Lengths) == 0 {
		o.Lengths = DefaultLengths()
	}
	return o, o.validate()
}

// otherwise returns v, or the default where nothing was given.
func otherwise(v, given, fallback float64) float64 {
	if given == 0 {
		return fallback
	}
	return v
}

func (o Options) validate() error {
	for _, c := range []struct {
		what   string
		v      float64
		lo, hi float64
	}{
		{"the waste at the hook end", o.Waste[0], 0, most}, {"the waste at the far end", o.Waste[1], 0, most},
		{"the sizing allowance", o.Allowance, 0, mostKept}, {"the sanding allowance", o.Sanding, 0, mostKept},
		{"the calipers' group", o.Group, 0, mostKept}, {"the parting tool's width", o.Tool, 0.5, 50}, {"the saw's kerf", o.Kerf, 0, 50},
		{"the number of copies", float64(o.Copies), 1, mostCopies}, {"the lathe's top speed", o.TopSpeed, 0, mostSpeed},
		{"the balusters' spacing", o.Spacing, 0, most}, {"the tenon at the hook end", math.Max(0, o.Tenons[0]), 0, most},
		{"the tenon at the far end", math.Max(0, o.Tenons[1]), 0, most},
	} {
		if !(c.v >= c.lo && c.v <= c.hi) {
			return fmt.Errorf("%w: %s is %v: give a figure between %v and %v", ErrOption, c.what, c.v, c.lo, c.hi)
		}
	}
	if o.Sanding > o.Allowance {
		return fmt.Errorf("%w: the sanding allowance (%.2f mm) is more than the whole sizing allowance (%.2f mm): give a smaller one", ErrOption, o.Sanding, o.Allowance)
	}
	for _, l := range o.Lengths {
		if !(l > 0 && l <= most) {
			return fmt.Errorf("%w: stock cannot be %v mm long", ErrOption, l)
		}
	}
	if o.Moisture != nil && o.Species == "" {
		return fmt.Errorf("%w: name the wood as well, each moves by its own measure", ErrOption)
	}
	return nil
}
