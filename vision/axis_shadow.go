package vision

import (
	"fmt"
	"math"
)

// A dark piece in hard light from the side: one edge stands out, the other lies in the piece's own
// shadow, which is as dark as the piece there. Along a given axis the first edge is traced, and the
// second is where it mirrors the first and the hue changes.
const (
	shadowHalf     = 0.25 // of the length: half-width looked for at most
	shadowGap      = 0.01 // of the length: longer stretches of the lit edge that look like the ground are no grooves
	shadowNeck     = 0.25 // of the usual half-width: no short groove is cut deeper
	shadowLit      = 0.5  // mean strength of the lit edge, as a share of full contrast
	shadowReach    = 20.0 // px: how far the mirrored edge may be off, twice the error of the axis given
	shadowBand     = 4.0  // px to either side whose hues are compared
	shadowSegments = 16   // stretches whose columns are averaged
	shadowStray    = 2.5  // px from a straight line, within which most segments must agree
)

// litSide traces the edge on the lit side about the axis f, and lays the other where the hue says.
func litSide(r *raster, c *cover, small *small, g *ground, f frame) (silhouette, error) {
	step := math.Max(1, f.L/fineColumns)
	s := newStrip(r, c, f, step, padShare*f.L/2+8*step, shadowHalf*f.L)
	q := firstLabels(s, g, small, shadowFloors[0])
	q.cutBeyond(s)
	middle, expect := make([]float64, s.nx), make([]float64, s.nx)
	for i := range middle {
		middle[i] = float64(s.mid)
	}
	contrast := 2 * g.limit()
	o := freeSides(s, q, contrast, middle, expect)
	lit, strength := 0, 0.0
	for k := range o.Reach {
		if v := o.edgeStrength(k, s.rises(contrast)); v > strength {
			lit, strength = k, v
		}
	}
	// The ground beyond the lit edge lies in no shadow: whatever differs there is piece, hollows in shadow too.
	q = firstLabels(s, g, small, shadowFloors[len(shadowFloors)-1])
	q.cutBeyond(s)
	o.Reach[lit] = sidePath(s, q, s.rises(contrast), 2*lit-1, middle, expect)
	bridgeGaps(o.Reach[lit], int(shadowGap*f.L/step))
	o.Reach[1-lit] = append([]int(nil), o.Reach[lit]...)
	o.trim()
	if strength < shadowLit || float64(o.To-o.From)*step < leastFound*f.L {
		return o, noMirror(true)
	}
	a, m, ok := o.hueEdge(1 - lit)
	if !ok {
		return o, fmt.Errorf("%w: one side of it lies in its own shadow and cannot be made out; use softer light, or light from both sides", ErrUnsure)
	}
	for i := range o.Reach[1-lit] {
		o.Reach[1-lit][i] = max(0, int(math.Round(float64(o.Reach[1-lit][i])+a+m*float64(i))))
	}
	o.Shadow = 2 - lit
	return o, nil
}

// bridgeGaps closes gaps of at most most columns with the lower of the reaches beside them.
func bridgeGaps(reach []int, most int) {
	usual := medianOf(len(reach), func(i int) float64 { return float64(reach[i]) })
	last := -1 // the last column that is covered
	for i, v := range reach {
		if float64(v) < shadowNeck*usual {
			continue
		}
		if last >= 0 && i-last-1 <= most {
			for k := last + 1; k < i; k++ {
				reach[k] = min(reach[last], v)
			}
		}
		last = i
	}
}

// edgeStrength is the mean rise of tone along one side, over the length of the axis.
func (o *silhouette) edgeStrength(k int, rise []float32) float64 {
	sum, n := 0.0, 0
	for i := range o.Reach[k] {
		if x := o.s.station(float64(i)); x < 0 || x > o.s.f.L {
			continue
		}
		n++
		if j := o.s.mid + (2*k-1)*o.Reach[k][i]; j > 0 && j < o.s.ny-1 && o.Reach[k][i] > 0 {
			sum += float64(max(rise[j*o.s.nx+i], rise[(j-1)*o.s.nx+i], rise[(j+1)*o.s.nx+i]))
		}
	}
	return sum / float64(max(n, 1))
}

// hueEdge is the line a + m i (samples, by column i) by which the edge of side k, where the hue changes,
// lies beyond the reach of that side; false if the segments of the side disagree.
func (o *silhouette) hueEdge(k int) (a, m float64, ok bool) {
	var xs, ys []float64
	for n := range shadowSegments {
		from := o.From + n*(o.To-o.From)/shadowSegments
		to := o.From + (n+1)*(o.To-o.From)/shadowSegments
		if d, seen := o.hueStep(k, from, to); seen {
			xs, ys = append(xs, float64(from+to)/2), append(ys, d)
		}
	}
	a, m = robustLine(xs, ys)
	agree := 0
	for i, x := range xs {
		if math.Abs(ys[i]-a-m*x)*o.s.step < shadowStray {
			agree++
		}
	}
	return a, m, 3*agree > 2*shadowSegments
}

// hueStep is how far (samples) beyond the reach of side k the mean hue of columns from..to changes most.
func (o *silhouette) hueStep(k, from, to int) (at float64, ok bool) {
	reach, band := int(shadowReach/o.s.step), max(1, int(shadowBand/o.s.step))
	hues := make([]colour, 2*(reach+band)+1)
	for t := range hues {
		var sum colour
		for i := from; i < to; i++ {
			j := o.s.mid + (2*k-1)*(o.Reach[k][i]+t-reach-band)
			if j < 0 || j >= o.s.ny || !o.s.ok[j*o.s.nx+i] {
				continue
			}
			for h, v := range o.s.pix[j*o.s.nx+i] {
				sum[h] += v
			}
		}
		all := max(sum[0]+sum[1]+sum[2], 1)
		hues[t] = colour{sum[0] / all, sum[1] / all, sum[2] / all}
	}
	best := 0.0
	for t := band; t < len(hues)-band; t++ { // the edge lies between t-1 and t
		var in, out colour
		for b := range band {
			for h := range in {
				in[h] += hues[t-1-b][h] / float32(band)
				out[h] += hues[t+b][h] / float32(band)
			}
		}
		if d := dist(in, out); d > best {
			best, at = d, float64(t-reach-band)-0.5
		}
	}
	return at, best > 0
}
