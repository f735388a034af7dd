package sheet

import (
	"fmt"
	"image"
	"math"
	"strings"

	"spindlestick/profile"
	"spindlestick/profile/sizing"
)

// Show says which sheets to make.
type Show string

// The sheets.
const (
	Stick    Show = "stick"    // the story stick
	Drawing  Show = "drawing"  // both sides of the profile, dimensioned
	Template Show = "template" // the half profile, to cut out
	Table    Show = "table"    // the stations in figures
	All      Show = "all"
)

// Shows returns every choice.
func Shows() []Show { return []Show{Stick, Drawing, Template, Table, All} }

// Options choose what Make makes. The zero value makes the story stick on A4 in millimetres.
type Options struct {
	Show  Show         // empty = Stick
	Paper Paper        // empty = A4
	Units profile.Unit // empty = millimetres
	Title string       // stands on every page; may be empty
	Date  string       // stands on every page as it is; may be empty
	Notes []string     // on the header line where they fit, else on a page of their own

	// ScaleX and ScaleY undo a printer that prints too small or too large along the paper's long and short side:
	// 100 mm divided by what its check bar measures. 0 = 1.
	ScaleX, ScaleY float64

	// Printer names the printer that ScaleX and ScaleY belong to; the sheets say it. May be empty.
	Printer string

	// Photo is the photograph along the axis with the pattern over it, hook end to the left. It makes the record page,
	// which comes with the table; nil = none.
	Photo image.Image

	// Hook is how far the blank goes on before station 1, mm: the stick hooks over the blank's end, and this much is
	// cut off in the end. 0 = the stick hooks over the finished end.
	Hook float64

	// Allowance is what a sizing cut leaves on the finished diameter, mm. 0 = sizing.UsualAllowance, negative = no sizing
	// diameters.
	Allowance float64

	// Group is how far apart diameters may lie that calipers are set for once, mm. 0 = sizing.UsualGroup, negative = equal
	// diameters only.
	Group float64
}

// The most that is taken for a length before the hook end and for an allowance, mm: more is a slip of the keyboard.
const (
	maxHook      = 100
	maxAllowance = 20
)

// maxCompensation is the largest change of scale taken for a printer's error: printers are off by well under 1 %
// (common experience, no source), so 5 % means a wrong figure or a driver that fits to the page.
const maxCompensation = 0.05

func (o Options) withDefaults() (Options, error) {
	if o.Show == "" {
		o.Show = Stick
	}
	if o.Paper == "" {
		o.Paper = A4
	}
	if o.Units == "" {
		o.Units = profile.MM
	}
	if o.ScaleX == 0 {
		o.ScaleX = 1
	}
	if o.ScaleY == 0 {
		o.ScaleY = 1
	}
	if o.Allowance == 0 {
		o.Allowance = sizing.UsualAllowance
	}
	return o, o.validate()
}

func (o Options) validate() error {
	if _, _, err := o.Paper.sides(); err != nil {
		return err
	}
	known := false
	var names []string
	for _, s := range Shows() {
		known = known || s == o.Show
		names = append(names, string(s))
	}
	if !known {
		return fmt.Errorf("sheet: there is no sheet %q: choose one of %s", string(o.Show), strings.Join(names, ", "))
	}
	if o.Units != profile.MM && o.Units != profile.Inch && o.Units != profile.Fraction {
		return fmt.Errorf("sheet: there is no unit %q: choose mm, in or fraction", string(o.Units))
	}
	for _, s := range []float64{o.ScaleX, o.ScaleY} {
		if !(math.Abs(s-1) <= maxCompensation) {
			return fmt.Errorf("sheet: a printer's correction of %.4f is not plausible: give 100 mm divided by what the check bar measures, between 0.95 and 1.05", s)
		}
	}
	return o.validateCuts()
}

func (o Options) validateCuts() error {
	if math.IsNaN(o.Group) || math.IsInf(o.Group, 0) {
		return fmt.Errorf("sheet: diameters cannot be grouped within %v mm: give a small length", o.Group)
	}
	if !(o.Hook >= 0 && o.Hook <= maxHook) {
		return fmt.Errorf("sheet: a blank cannot go on for %v mm before its first station: give 0 to %d mm", o.Hook, maxHook)
	}
	if !(o.Allowance <= maxAllowance) || math.IsInf(o.Allowance, 0) {
		return fmt.Errorf("sheet: an allowance of %v mm for sizing is not plausible: give 0 to %d mm", o.Allowance, maxAllowance)
	}
	return nil
}
