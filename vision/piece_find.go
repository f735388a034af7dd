package vision

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
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
}

// findPiece looks for the turning without being told where it lies.
func findPiece(s *small, hidden []bool) (candidate, error) {
	g, ok := fitGround(s, func(x, y int) bool { return !hidden[y*s.w+x] })
	if !ok {
		return candidate{}, fmt.Errorf("%w: the reference fills the picture; take the photo with more of the bench around the piece", ErrNoPiece)
	}
	for _, floor := range shadowFloors {
		class := classify(s, g, hidden, floor)
		parts := blobs(class, s.w, s.h, int(leastPart*float64(s.w*s.h)))
		found := turnings(joinParts(parts, class, s.w, s.h), s)
		if len(found) > 1 && float64(found[1].area) > rivalShare*float64(found[0].area) {
			return candidate{}, fmt.Errorf("%w: there are several things that could be the piece; give the two ends of the right one with --axis", ErrUnsure)
		}
		if len(found) > 0 {
			return found[0].candidate(s, g, floor), nil
		}
	}
	return candidate{}, fmt.Errorf("%w: photograph the piece on a plain ground that it stands out from, or give its two ends with --axis", ErrNoPiece)
}

// hidden marks the small pixels on references.
func (s *small) hidden(c *cover) []bool {
	out := make([]bool, len(s.pix))
	if len(c.polygons) == 0 {
		return out
	}
	for y := range s.h {
		for x := range s.w {
			out[y*s.w+x] = c.hides(s.full(float64(x), float64(y)))
		}
	}
	return out
}

// classify tells ground from other things; floor is the darkest shadow that still is ground.
func classify(s *small, g *ground, hidden []bool, floor float64) []uint8 {
	limit := g.limit() * g.limit()
	class := make([]uint8, len(s.pix))
	parallel(s.h, func(y int) {
		row := g.row(float64(y))
		for x := range s.w {
			i := y*s.w + x
			switch {
			case hidden[i]:
				class[i] = isReference
			case unlike2(s.pix[i], row.at(float64(x)), float32(floor)) > limit:
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
func (b *blob) candidate(s *small, g *ground, floor float64) candidate {
	p := r2.Add(b.centre, r2.Scale(b.lo, b.e))
	q := r2.Add(b.centre, r2.Scale(b.hi, b.e))
	first, second := ordered(s.full(p.X, p.Y), s.full(q.X, q.Y))
	return candidate{frame: newFrame(first, second), half: (b.half + 1) * float64(s.k), ground: g, floor: floor}
}
