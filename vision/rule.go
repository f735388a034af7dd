package vision

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

const (
	// markSigma is the standard deviation in px of a graduation that a user pointed at.
	markSigma = 2.0
	// markSlack is how far in px a mark may lie from its graduation: three standard deviations, and a little for the eye.
	markSlack = 7.0
	// markLeast is the least distance of two marks in px: nearer ones say nothing of a scale.
	markLeast = 20.0
)

// ErrMarks says that the marks on a rule cannot be right.
var ErrMarks = errors.New("vision: the marks on the rule")

// ReadRule reads the graduations of a rule of which the user marked two and stated their distance, a few pixels off perhaps. read tells
// whether a comb of graduations was found; else the rule holds only the two marks. T counts from the graduation at marks.P towards
// marks.Q; P lies on a line beside or through the marks, wherever the comb is clearest. A comb that contradicts the marks is an error.
func ReadRule(p *Photo, marks view.RuleMarks) (rule view.Rule, read bool, err error) {
	if err := p.open(); err != nil {
		return rule, false, err
	}
	if err := p.checkMarks(marks); err != nil {
		return rule, false, err
	}
	line := newRuleLine(p, marks)
	rows, spectrum := line.rows(), newSpectrum(line.length)
	for _, v := range line.clearest(rows, spectrum) {
		c, ok := line.combAt(rows, spectrum, v)
		if !ok {
			continue
		}
		g, wrong := graduationOf(c.between(0, line.length), line.length, marks.Length)
		if wrong == nil {
			return line.rule(c, g), true, nil
		}
		if err == nil {
			err = wrong
		}
	}
	if err != nil {
		return rule, false, err
	}
	return view.Rule{T: []float64{0, marks.Length}, P: []r2.Vec{marks.P, marks.Q}, Sigma: markSigma}, false, nil
}

// rule is the comb with its graduations in mm, counted from the one nearest to the first mark.
func (l ruleLine) rule(c comb, g graduation) view.Rule {
	first := math.Round(c.count(0))
	r := view.Rule{Sigma: c.sigma}
	for _, k := range c.marks {
		r.T = append(r.T, g.mm*(k.number-first))
		r.P = append(r.P, l.point(k.at, c.row))
	}
	return r
}

// checkMarks refuses marks that no rule can have.
func (p *Photo) checkMarks(m view.RuleMarks) error {
	for _, v := range []float64{m.P.X, m.P.Y, m.Q.X, m.Q.Y, m.Length} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%w are not numbers: mark two graduations", ErrMarks)
		}
	}
	for _, q := range [2]r2.Vec{m.P, m.Q} {
		if q.X < -0.5 || q.Y < -0.5 || q.X > float64(p.width)-0.5 || q.Y > float64(p.height)-0.5 {
			return fmt.Errorf("%w: (%.0f, %.0f) lies outside the photo of %d x %d", ErrMarks, q.X, q.Y, p.width, p.height)
		}
	}
	if m.Length <= 0 {
		return fmt.Errorf("%w need their distance in mm, more than 0", ErrMarks)
	}
	if d := r2.Norm(r2.Sub(m.Q, m.P)); d < markLeast {
		return fmt.Errorf("%w are only %.0f px apart: mark two that are further from each other", ErrMarks, d)
	}
	return nil
}
