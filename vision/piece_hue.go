package vision

import (
	"math"
)

// Hue is kept as a colour of its own: the logarithms of blue over green and of red over green, in linear
// light. Shading, gloss apart, and shadows leave both alone, where the light keeps its own hue. Between them
// stands the logarithm of green, on a smaller scale: gloss has the ground's hue but is far brighter.
const (
	hueMiddle = 128.0 // of equal shares
	hueScale  = 128.0 // for a ratio of e
	hueLight  = 24.0  // the same, of green: full light to the least that shows spans as much as two unlike hues
	hueDark   = 0.002 // linear light added to each channel: below six tones of 255 hue is noise
)

// hueOf is the hue of linear light.
func hueOf(b, g, r float64) colour {
	code := func(ratio, scale, one float64) float32 {
		return float32(math.Max(0, math.Min(255, one+scale*math.Log(ratio))))
	}
	g += hueDark
	return colour{code((b+hueDark)/g, hueScale, hueMiddle), code(g, hueLight, 255), code((r+hueDark)/g, hueScale, hueMiddle)}
}

// pure is the hue alone.
func (c colour) pure() colour { return colour{c[0], hueMiddle, c[2]} }

// lightOf is the linear light of a tone, 0..255, by the table of a raster.
func lightOf(table []float32, tone float32) float32 {
	x := tone / 255 * float32(len(table)-1)
	i := min(max(int(x), 0), len(table)-2)
	return table[i] + (x-float32(i))*(table[i+1]-table[i])
}
