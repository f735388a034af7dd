package profile

import (
	"fmt"
	"io"
	"math"
	"strconv"
)

// CSVStep is the spacing of the samples in CSV files, mm.
const CSVStep = 0.25

// Samples returns the pattern as samples every step mm, both ends of every element included, so that a square
// shoulder appears as two samples at one station. Uncertainties run linearly between an element's ends.
func (p Pattern) Samples(step float64) []Sample {
	var out []Sample
	for _, e := range p.Elements {
		out = append(out, e.sample(e.X0))
		for k := math.Floor(e.X0/step) + 1; k*step < e.X1-joinTolerance; k++ {
			if k*step > e.X0+joinTolerance {
				out = append(out, e.sample(k*step))
			}
		}
		out = append(out, e.sample(e.X1))
	}
	return out
}

func (e Element) sample(x float64) Sample {
	r := e.At(x) / 2
	w := (x - e.X0) / e.Length()
	u := e.U.D0 + w*(e.U.D1-e.U.D0)
	if e.Kind.Curved() || e.Kind.Inner() {
		u = math.Max(u, e.U.Mid*4*w*(1-w))
	}
	return Sample{X: x, R: r, U: u, State: e.state(), Sides: [2]float64{r, r}}
}

// WriteCSV writes samples as x_mm,diameter_mm,u_mm,state.
func WriteCSV(w io.Writer, samples []Sample) error {
	if _, err := io.WriteString(w, "x_mm,diameter_mm,u_mm,state\n"); err != nil {
		return err
	}
	num := func(v float64, prec int) string { return strconv.FormatFloat(v, 'f', prec, 64) }
	for _, s := range samples {
		if _, err := fmt.Fprintf(w, "%s,%s,%s,%s\n", num(s.X, 4), num(2*s.R, 4), num(s.U, 4), s.State); err != nil {
			return err
		}
	}
	return nil
}
