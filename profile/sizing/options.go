package sizing

import "spindlestick/profile"

// Options say what is left and which tool cuts. The zero value is the usual practice.
type Options struct {
	// Allowance is left on the diameter by sizing cuts, mm. 0 = UsualAllowance.
	Allowance float64
	// Sanding is left on the diameter for sanding alone, mm. 0 = UsualSanding.
	Sanding float64
	// Group gathers diameters within so many mm under one setting of the calipers. 0 = UsualGroup, negative = equal
	// diameters only.
	Group float64
	// Tool is the width of the parting tool, mm. 0 = UsualTool.
	Tool float64
}

// The values that stand where an option does not say.
const (
	// UsualAllowance is 1/16 in (Milton & Wohlers, A Course in Wood Turning, 1919, exercises A-I-2, 3 and 5).
	UsualAllowance = profile.MMPerInch / 16
	// UsualSanding lies within the 0.2 to 0.5 mm on the diameter that sanding takes (common practice, no source).
	UsualSanding = 0.3
	// UsualGroup is a third of the allowance, so that a shared setting never leaves much more to turn off (common
	// practice, no source).
	UsualGroup = 0.5
	// UsualTool is a parting tool of 1/8 in (common practice, no source).
	UsualTool = profile.MMPerInch / 8
	// sandedGroup is how much more may be left where sanding alone follows, mm: it reads as the same tenth, or the next.
	sandedGroup = 0.1
)

func (o Options) withDefaults() Options {
	for _, d := range []struct {
		v     *float64
		usual float64
	}{{&o.Allowance, UsualAllowance}, {&o.Sanding, UsualSanding}, {&o.Tool, UsualTool}} {
		if *d.v <= 0 {
			*d.v = d.usual
		}
	}
	switch {
	case o.Group == 0:
		o.Group = UsualGroup
	case o.Group < 0:
		o.Group = 0
	}
	return o
}
