package job

import (
	"fmt"
	"strings"

	"spindlestick/profile"
	"spindlestick/profile/check"
	"spindlestick/profile/join"
	"spindlestick/profile/view"
)

// Join makes one job of jobs whose photographs overlap along one piece, in order from the hook end; overlap says about how
// much neighbours share, mm, 0 = found. The joined job has no photograph of its own.
func Join(jobs []Job, overlap float64) (Job, []join.Seam, error) {
	shots := make([]join.Shot, len(jobs))
	for i, j := range jobs {
		shots[i] = shot(j)
	}
	out, err := join.Along(shots, join.Options{Overlap: overlap})
	if err != nil {
		return Job{}, nil, err
	}
	words := join.SeamWords(out.Seams)
	return Job{
		Title: jobs[0].Title, Note: strings.Join(words, " "), Pattern: out.Pattern,
		Measurement: view.Measurement{Trace: out.Trace, Notes: words},
	}, out.Seams, nil
}

// Turn makes one job of two of a whole piece that was turned about its axis by a quarter between them: the mean of both,
// with what they say of its roundness.
func Turn(a, b Job) (Job, join.Oval, error) {
	o, err := join.Turned(shot(a), shot(b), func(x float64) bool { return isRound(a.Pattern, x) })
	if err != nil {
		return Job{}, o, err
	}
	p, _, err := check.Likely([]check.Piece{
		{Name: a.Title, Pattern: a.Pattern, Trace: a.Measurement.Trace}, {Name: b.Title, Pattern: b.Pattern, Trace: b.Measurement.Trace},
	}, check.LikelyOptions{})
	if err != nil {
		return Job{}, o, fmt.Errorf("the two turns' patterns: %w", err)
	}
	words := o.Words()
	return Job{
		Title: a.Title, Note: strings.Join(words, " "), Pattern: p,
		Measurement: view.Measurement{Trace: o.Trace, Notes: words},
	}, o, nil
}

func shot(j Job) join.Shot {
	s := join.Shot{Name: j.Title, Trace: j.Measurement.Trace, Pattern: j.Pattern}
	if len(j.Photo) > 0 {
		s.Cut = j.Measurement.CutOff()
	}
	return s
}

// isRound reports whether p is turned at station x.
func isRound(p profile.Pattern, x float64) bool {
	i := p.Index(x)
	return i >= 0 && p.Elements[i].Kind != profile.Square && p.Elements[i].Kind != profile.Shoulder
}
