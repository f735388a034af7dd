package plan

import (
	"fmt"

	"spindlestick/profile"
	"spindlestick/profile/sizing"
)

// Plan is how a pattern is turned, mm and radians, stations from the hook end of the finished piece.
type Plan struct {
	Pattern   profile.Pattern // as turned: larger than as used where the wood will shrink
	Options   Options         // with every default filled in
	Species   *Species        // nil = not said
	Movement  *Movement       // nil = none reckoned with
	Blank     Blank
	Lines     []Line
	Cylinders []Cylinder
	Cuts      []sizing.Cut // from the hook end on, those that the rough cylinder leaves to do
	Settings  []sizing.Setting
	Points    []sizing.Point
	Steps     []Step
	Checks    []Check
	Speeds    Speeds
	Slender   Slenderness
	Weight    Weight
	Yields    []Yield
	Guard     *Guard // nil = not a baluster, as far as is said
	Doubts    []Doubt
}

// Make plans the turning of a pattern.
func Make(p profile.Pattern, o Options) (Plan, error) {
	if err := p.Validate(); err != nil {
		return Plan{}, fmt.Errorf("plan the work: %w", err)
	}
	o, err := o.withDefaults()
	if err != nil {
		return Plan{}, err
	}
	out := Plan{Options: o}
	if err := out.wood(p); err != nil {
		return Plan{}, err
	}
	if o.Spacing > 0 {
		g := Opening(p, o.Spacing, o.Tenons) // as used
		out.Guard = &g
	}
	out.cut(out.Pattern)
	return out, nil
}

// wood settles the species, the movement, and the pattern as it is to be turned.
func (out *Plan) wood(p profile.Pattern) error {
	out.Pattern = p.Clone()
	if out.Options.Species == "" {
		return nil
	}
	s, err := Wood(out.Options.Species)
	if err != nil {
		return err
	}
	out.Species = &s
	if out.Options.Moisture == nil {
		return nil
	}
	m, err := movement(s, *out.Options.Moisture, roundest(p))
	if err != nil {
		return err
	}
	out.Movement = &m
	out.Pattern = swollen(p, m.Factor)
	return nil
}

// cut plans the cuts of the pattern as it is to be turned.
func (out *Plan) cut(p profile.Pattern) {
	o := out.Options
	out.Doubts = doubts(p)
	out.Blank = newBlank(p, o)
	out.Lines = layout(p)
	out.Cylinders = cylinders(p, out.Blank, o)
	out.size(p)
	out.Steps = order(p, out.Blank.Square > 0)
	out.Checks = checks(p)
	out.Speeds = speeds(p, out.Blank, o)
	out.Slender = slenderness(p)
	out.Yields = yields(out.Blank, o)
	var s Species
	if out.Species != nil {
		s = *out.Species
	}
	out.Weight = weigh(p, out.Blank, s)
}

// size takes the sizing cuts that the rough cylinder leaves to do, and the settings that then have any; their letters
// stay those of the story stick.
func (out *Plan) size(p profile.Pattern) {
	o := out.Options
	cutting := sizing.Options{Allowance: o.Allowance, Sanding: o.Sanding, Group: o.Group, Tool: o.Tool}
	if o.Group == 0 {
		cutting.Group = -1 // equal diameters only
	}
	cuts, settings, points := sizing.Cuts(p, cutting)
	out.Points = points
	index := map[int]int{}
	for i, c := range cuts {
		if c.Diameter < roughAt(out.Cylinders, out.Blank, c.Middle())-equal {
			index[i] = len(out.Cuts)
			out.Cuts = append(out.Cuts, c)
		}
	}
	for _, s := range settings {
		var kept []int
		for _, i := range s.Cuts {
			if k, ok := index[i]; ok {
				kept = append(kept, k)
				out.Cuts[k].Setting = len(out.Settings)
			}
		}
		if s.Cuts = kept; len(kept) > 0 {
			out.Settings = append(out.Settings, s)
		}
	}
}
