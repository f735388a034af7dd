package vision

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// ErrNoPiece says that nothing in the photo looks like a turning.
var ErrNoPiece = errors.New("no turning was found in the photo")

// ErrUnsure says that an outline was found but cannot be trusted.
var ErrUnsure = errors.New("could not tell the piece from the ground")

// findSide is the longer side of the small picture in which the piece is looked for: a spindle of
// 1:200 is still 5 px thick in it.
const findSide = 1100

// The least a blob must be to be taken for a turning.
const (
	leastPart   = 0.0002 // of the picture, for a part of the piece
	leastShare  = 0.0008 // of the picture: 1:200 over nine tenths of the width is 0.3 %
	leastLength = 0.15   // of the longer side of the picture: less cannot be measured well
	leastMirror = 0.70   // of its area mirrored: shadows and missing chips take off less
	leastAspect = 1.25   // length over width: stout pots and finials count as turnings
	rivalShare  = 0.5    // a second blob of this share of the first one's area is a rival
	rivalLength = 0.5    // and so is one of this share of its length
	rivalPart   = 0.12   // a blob of this share of its length in line with it may be the rest of it
)

// shadowFloors are the shares of the ground's tone that a shadow may leave, tried in turn: the first
// forgives shadows but misses pieces of the ground's own hue, the last takes any difference.
var shadowFloors = [...]float64{0.3, 0.75, 0.96}

// candidate is a rough find in full-size pixels.
type candidate struct {
	frame  frame
	half   float64 // half-width
	ground *ground
	floor  float64 // the darkest shadow that was taken for ground, as a share of its tone

	byHue bool // only hue tells ground and piece apart: the find is but the part of it in the light
}

// finder looks for the piece in one picture.
type finder struct {
	photo  *Photo
	rough  *raster // enough to find the piece
	r      *raster // at full size; nil until see waits for it
	c      *cover
	small  *small
	hidden []bool // small pixels on references
	cam    view.Camera
	say    func(stage string, done float64) error
}

// prepare makes ready what the piece is looked for in.
func (d *finder) prepare(rule *view.Rule) (err error) {
	if d.rough, err = d.photo.rough(); err != nil {
		return err
	}
	if rule != nil {
		if err := d.wait(); err != nil {
			return err
		}
		if body := d.r.ruleBody(rule); body != nil {
			d.c.add(body)
		}
	}
	if d.small, err = d.photo.small(findSide); err != nil {
		return err
	}
	d.hidden = d.small.hidden(d.c)
	return nil
}

// wait waits for the picture at full size.
func (d *finder) wait() error {
	if err := d.photo.open(); err != nil || d.r != nil {
		return err
	}
	d.r = d.photo.raster()
	return nil
}

// way is one way of telling the ground from other things.
type way struct {
	ground *ground
	floor  float64
}

// ways yields the ways in the order in which they are tried, taking darker and lighter shadows for ground in
// turn. False if too little of the ground shows.
func (d *finder) ways(use func(x, y int) bool, try func(w way) (more bool)) bool {
	g, ok := fitGround(d.small, use)
	for _, floor := range shadowFloors {
		if !ok || !try(way{g, floor}) {
			break
		}
	}
	return ok
}

// free looks for the piece without being told where it lies, or, with a hint, for the one whose ends lie about
// there: the hint chooses, but what is found does not depend on it.
func (d *finder) free(hint *frame) (view.Outline, error) {
	t := trial{none: fmt.Errorf("%w: photograph the piece on a plain ground that it stands out from, or give its two ends with --axis", ErrNoPiece)}
	if !d.ways(func(x, y int) bool { return !d.hidden[y*d.small.w+x] }, func(w way) bool {
		cand, ok, err := d.candidate(w, hint)
		for _, cand.byHue = range [...]bool{false, true} {
			var o view.Outline
			if ok {
				o, err = d.see(cand, false)
			}
			if err == nil && hint != nil && !meets(&o, *hint) {
				err = noMirror(true)
			}
			if !ok && err == nil || !t.took(o, err) {
				break
			}
		}
		return !t.found && !errors.Is(err, errRivals)
	}) {
		return view.Outline{}, fmt.Errorf("%w: the reference fills the picture; take the photo with more of the bench around the piece", ErrNoPiece)
	}
	return t.result()
}

// trial keeps the first outline that holds, and the first reason why others do not.
type trial struct {
	o     view.Outline
	found bool
	err   error
	none  error // the reason when there was nothing to try
}

func (t *trial) failed(err error) {
	if t.err == nil {
		t.err = err
	}
}

// took keeps o unless there is an error; true if more must be tried.
func (t *trial) took(o view.Outline, err error) bool {
	if err != nil {
		t.failed(err)
		return !errors.Is(err, context.Canceled) && !errors.Is(err, context.DeadlineExceeded)
	}
	t.o, t.found = o, true
	return false
}

func (t *trial) result() (view.Outline, error) {
	switch {
	case t.found:
		return t.o, nil
	case t.err != nil:
		return view.Outline{}, t.err
	}
	return view.Outline{}, t.none
}

// see measures the edges of a candidate.
func (d *finder) see(cand candidate, hinted bool) (view.Outline, error) {
	shape, err := d.follow(cand, hinted)
	if err == nil {
		err = shape.plausible()
	}
	if err == nil {
		err = d.say("Measuring its edges", 0.7)
	}
	if err != nil {
		return view.Outline{}, err
	}
	return d.assemble(refineEdges(d.r, shape.contour()), shape.s.f, shape.Shadow)
}

// errRivals says that more than one thing in the photo could be the piece.
var errRivals = fmt.Errorf("%w: there are several things that could be the piece; give the two ends of the right one with --axis", ErrUnsure)

// candidate is what looks most like a turning in one way; with a hint, of those that lie about there.
func (d *finder) candidate(w way, hint *frame) (cand candidate, ok bool, err error) {
	class := classify(d.small, w.ground, d.hidden, w.floor)
	parts := blobs(class, d.small.w, d.small.h, int(leastPart*float64(d.small.w*d.small.h)))
	parts = joinParts(parts, class, d.small.w, d.small.h)
	found := turnings(parts, d.small)
	if hint == nil && len(found) > 0 && rivalled(found, parts) {
		return cand, false, errRivals
	}
	for _, b := range found {
		cand = b.candidate(d.small, w)
		if hint == nil || cand.frame.near(*hint, hintChoice*hint.L) {
			return cand, true, nil
		}
	}
	return cand, false, nil
}

// rivalled reports whether the piece could be another turning than the first, or goes on beyond a gap.
func rivalled(found, parts []blob) bool {
	first := &found[0]
	length := first.hi - first.lo
	for i := range found[1:] {
		b := &found[1+i]
		if float64(b.area) > rivalShare*float64(first.area) || b.hi-b.lo > rivalLength*length {
			return true
		}
	}
	for i := range parts {
		b := &parts[i]
		if b.hi-b.lo > rivalPart*length && first.inLine(b) && first.beyond(b) {
			return true
		}
	}
	return false
}

// hintChoice is how far the ends of what is meant may lie from where the user pointed, as a share of the length:
// a first find takes shadows along.
const hintChoice = 0.15

// hidden marks the small pixels on references.
func (s *small) hidden(c *cover) []bool {
	out := make([]bool, len(s.pix))
	for k, q := range c.polygons {
		lo, hi := s.part(c.boxes[k].Min), s.part(c.boxes[k].Max)
		for y := max(0, int(lo.Y)); y <= min(s.h-1, int(hi.Y)+1); y++ {
			for x := max(0, int(lo.X)); x <= min(s.w-1, int(hi.X)+1); x++ {
				i := y*s.w + x
				out[i] = out[i] || within(q, s.full(float64(x), float64(y)))
			}
		}
	}
	return out
}

// classify tells ground from other things; floor is the darkest shadow that still is ground.
func classify(s *small, g *ground, hidden []bool, floor float64) []uint8 {
	limit := g.limit() * g.limit()
	class := make([]uint8, len(s.pix))
	parallel(s.h, func(y int) {
		for x := range s.w {
			i := y*s.w + x
			switch {
			case hidden[i]:
				class[i] = isReference
			case g.unlike2(&s.pix[i], float64(x), float64(y), float32(floor)) > limit:
				class[i] = isOther
			}
		}
	})
	return class
}

// limit is the distance from the ground model beyond which a tone is something else: five standard
// deviations, and no less than 12 of 255, which uneven light reaches.
func (g *ground) limit() float64 { return math.Max(12, 5*g.sigma) }

// turnings sorts out the blobs that can be a turning, largest first.
func turnings(all []blob, s *small) []blob {
	var out []blob
	side := float64(max(s.w, s.h))
	for _, b := range all {
		length := b.hi - b.lo
		if float64(b.area) < leastShare*float64(s.w*s.h) || length < leastLength*side || b.mirror < leastMirror || length < leastAspect*2*b.half || b.borders > 1 {
			continue
		}
		out = append(out, b)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].area > out[j].area })
	return out
}

// candidate takes the blob to full-size pixels.
func (b *blob) candidate(s *small, w way) candidate {
	p := r2.Add(b.centre, r2.Scale(b.lo, b.e))
	q := r2.Add(b.centre, r2.Scale(b.hi, b.e))
	first, second := ordered(s.full(p.X, p.Y), s.full(q.X, q.Y))
	return candidate{frame: newFrame(first, second), half: (b.half + 1) * float64(s.k), ground: w.ground, floor: w.floor}
}
