package vision

import (
	"math"
	"sort"
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

// coverage returns the measure whose step is fitted: which share of a pixel's light the piece sends,
// 0 outside and 1 inside. It is read from luma where that tells the two sides apart, since JPEG blurs
// and shifts the colour differences, else from the best mix of the channels.
func (e *edgeReader) coverage(s sides) (value func(q *nearPixel) float64, kind measure, ok bool) {
	d := math.Abs(s.luma[0] - s.luma[1])
	if d > leastLuma*s.spread && d > leastLumaShare*s.toneDistance() {
		c := newLumaCurve(s)
		return func(q *nearPixel) float64 { return c.share(q.luma) }, byLuma, true
	}
	w, offset, ok := e.mix(s, mixGap*e.scale)
	return func(q *nearPixel) float64 {
		return offset + w[0]*float64(q.c[0]) + w[1]*float64(q.c[1]) + w[2]*float64(q.c[2])
	}, byColour, ok
}

// toneDistance is the distance between the tones of the two sides, 0..441.
func (s *sides) toneDistance() float64 {
	sum := 0.0
	for k := range 3 {
		d := 255 * (toTone(s.light[0][k]) - toTone(s.light[1][k]))
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

func newLumaCurve(s sides) *lumaCurve {
	c := &lumaCurve{down: s.luma[0] < s.luma[1]}
	for i := range c.luma {
		m := curveShare(i)
		if c.down {
			m = curveShare(curveNodes - 1 - i)
		}
		for k, w := range lumaWeights {
			c.luma[i] += w * 255 * toTone(s.light[1][k]+m*(s.light[0][k]-s.light[1][k]))
		}
	}
	for i := 1; i < curveNodes; i++ { // colours that cross may make it dip: keep it invertible
		c.luma[i] = math.Max(c.luma[i], c.luma[i-1]+1e-3)
	}
	return c
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
	i := sort.SearchFloat64s(c.luma[:], luma)
	i = min(max(i, 1), curveNodes-1)
	x := float64(i) - (c.luma[i]-luma)/(c.luma[i]-c.luma[i-1])
	if c.down {
		x = curveNodes - 1 - x
	}
	return -0.5 + 2*x/(curveNodes-1)
}
