package vision

import (
	"math"
)

// lumaWeights are the weights of blue, green and red in luma (ITU-R BT.601).
var lumaWeights = [3]float64{0.114, 0.587, 0.299}

// measure is what the place of an edge is read from.
type measure int

const (
	byLuma measure = iota
	byColour
)

// The least difference of luma between piece and ground at which luma alone places the edge: in
// standard deviations of luma, and as a share of the difference in colour. Nearer to equal luma
// its course across the edge need not even be monotone.
const (
	leastLuma      = 2.5
	leastLumaShare = 0.3
)

// coverage turns pixels into the share of light that the piece sends, 0 outside and 1 inside. It reads
// luma where that tells the two sides apart, since JPEG blurs and shifts the colour differences, else the
// best mix of the channels.
type coverage struct {
	kind   measure
	curve  lumaCurve
	w      [3]float64
	offset float64
}

// value is the share of a pixel.
func (e *edgeReader) value(q *nearPixel) float64 {
	c := &e.cov
	if c.kind == byLuma {
		return c.curve.share(q.luma)
	}
	light := e.r.lightOf(q.at)
	return c.offset + c.w[0]*float64(light[0]) + c.w[1]*float64(light[1]) + c.w[2]*float64(light[2])
}

// cover chooses the measure for a point between two sides; false if they look alike.
func (e *edgeReader) cover(s *sides) (ok bool) {
	d := math.Abs(s.luma[0] - s.luma[1])
	if d > leastLuma*s.spread && d > leastLumaShare*e.tones.distance(s) {
		e.cov.kind = byLuma
		e.cov.curve.lay(e.tones, s)
		return true
	}
	e.cov.kind = byColour
	e.cov.w, e.cov.offset, ok = e.mix(s)
	return ok
}

// texture is the standard deviation of the shares on the two sides, clear of the edge.
func (e *edgeReader) texture(s *sides) (t [2]float64) {
	if e.cov.kind == byLuma {
		for k, sd := range s.sd {
			t[k] = math.Abs(e.cov.curve.share(s.luma[k]+sd)-e.cov.curve.share(s.luma[k]-sd)) / 2
		}
		return t
	}
	var n, sum, sq [2]float64
	for i := range e.far {
		k, _ := sideOf(e.far[i].across, 0)
		v := e.value(&e.far[i])
		n[k], sum[k], sq[k] = n[k]+1, sum[k]+v, sq[k]+v*v
	}
	for k := range t {
		m := sum[k] / n[k]
		t[k] = math.Sqrt(math.Max(0, sq[k]/n[k]-m*m))
	}
	return t
}

// toneTable is the sRGB curve, tabulated: it is asked for a hundred times at every point of the contour.
type toneTable []float64

// The table's nodes stand so close that straight lines between them miss the curve by 0.005 tones of 255.
const (
	toneNodes = 4096 // per unit of light
	toneTop   = 2.0  // units of light
)

func newToneTable() toneTable {
	t := make(toneTable, toneTop*toneNodes+2)
	for i := range t {
		t[i] = toTone(float64(i) / toneNodes)
	}
	return t
}

// at is the tone, 0..1, of light v; light below 0 has the slope at 0.
func (t toneTable) at(v float64) float64 {
	if v <= 0 {
		return 12.92 * v
	}
	x := math.Min(v, toneTop) * toneNodes
	i := int(x)
	return t[i] + (x-float64(i))*(t[i+1]-t[i])
}

// distance is that between the tones of the two sides, 0..441.
func (t toneTable) distance(s *sides) float64 {
	sum := 0.0
	for k := range 3 {
		d := 255 * (t.at(s.light[0][k]) - t.at(s.light[1][k]))
		sum += d * d
	}
	return math.Sqrt(sum)
}

// curveNodes spans shares from -0.5 to 1.5 of the light: noise and shading leave 0..1.
const curveNodes = 33

// lumaCurve is luma as a function of the share m of the piece's light when the two sides' light mixes
// linearly and the camera then codes each channel by itself.
type lumaCurve struct {
	luma [curveNodes]float64 // rising
	down bool                // luma falls with the share: it is stored reversed
}

func curveShare(i int) float64 { return -0.5 + 2*float64(i)/(curveNodes-1) }

// lay tabulates the curve between two sides.
func (c *lumaCurve) lay(tones toneTable, s *sides) {
	c.down = s.luma[0] < s.luma[1]
	for i := range c.luma {
		m := curveShare(i)
		if c.down {
			m = curveShare(curveNodes - 1 - i)
		}
		v := 0.0
		for k, w := range lumaWeights {
			v += w * 255 * tones.at(s.light[1][k]+m*(s.light[0][k]-s.light[1][k]))
		}
		if i > 0 { // colours that cross may make it dip: keep it invertible
			v = math.Max(v, c.luma[i-1]+1e-3)
		}
		c.luma[i] = v
	}
}

// toTone is the sRGB curve (IEC 61966-2-1); light below 0 has the slope at 0.
func toTone(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// share inverts the curve, linearly beyond its ends.
func (c *lumaCurve) share(luma float64) float64 {
	i, hi := 1, curveNodes-1
	for i < hi { // the first node at or above luma
		if m := (i + hi) / 2; c.luma[m] < luma {
			i = m + 1
		} else {
			hi = m
		}
	}
	x := float64(i) - (c.luma[i]-luma)/(c.luma[i]-c.luma[i-1])
	if c.down {
		x = curveNodes - 1 - x
	}
	return -0.5 + 2*x/(curveNodes-1)
}
