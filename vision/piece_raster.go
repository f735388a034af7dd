package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// colour is one colour in sRGB tones, 0..255 each.
type colour [3]float32

// raster is the upright picture at full size: three interleaved channels of 8 or 16 bits.
type raster struct {
	w, h  int
	p8    []uint8   // one of p8 and p16 is set
	p16   []uint16  //
	light []float32 // stored value -> linear light 0..1
}

// rgb is one colour in linear light, 0..1 each.
type rgb [3]float32

// raster views the photo's pixels without copying them.
func (p *Photo) raster() *raster {
	if p.b16 != nil {
		return newRaster16(p.width, p.height, p.b16)
	}
	return newRaster8(p.width, p.height, p.b8)
}

// newRaster8 wraps interleaved 8-bit data; the data are not copied.
func newRaster8(w, h int, pix []uint8) *raster {
	return &raster{w: w, h: h, p8: pix, light: lightTable(256)}
}

// newRaster16 wraps interleaved 16-bit data; the data are not copied.
func newRaster16(w, h int, pix []uint16) *raster {
	return &raster{w: w, h: h, p16: pix, light: lightTable(65536)}
}

// lightTable is the inverse sRGB curve (IEC 61966-2-1) for n tone levels.
func lightTable(n int) []float32 {
	t := make([]float32, n)
	for i := range t {
		v := float64(i) / float64(n-1)
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		t[i] = float32(v)
	}
	return t
}

// tone is the sRGB value of a pixel inside the picture, 0..255.
func (r *raster) tone(x, y int) colour {
	i := 3 * (y*r.w + x)
	if r.p8 != nil {
		return colour{float32(r.p8[i]), float32(r.p8[i+1]), float32(r.p8[i+2])}
	}
	const k = 255.0 / 65535
	return colour{k * float32(r.p16[i]), k * float32(r.p16[i+1]), k * float32(r.p16[i+2])}
}

// lightAt is the linear light of a pixel inside the picture, 0..1.
func (r *raster) lightAt(x, y int) rgb {
	i := 3 * (y*r.w + x)
	if r.p8 != nil {
		return rgb{r.light[r.p8[i]], r.light[r.p8[i+1]], r.light[r.p8[i+2]]}
	}
	return rgb{r.light[r.p16[i]], r.light[r.p16[i+1]], r.light[r.p16[i+2]]}
}

// luma is the luma of a pixel inside the picture (ITU-R BT.601, as JPEG has it), 0..255. It is sharp
// where the two colour differences of a JPEG are stored at half size.
func (r *raster) luma(x, y int) float64 {
	c := r.tone(x, y)
	return lumaWeights[0]*float64(c[0]) + lumaWeights[1]*float64(c[1]) + lumaWeights[2]*float64(c[2])
}

// toneAt interpolates the tones at p (px) linearly, and says false outside the picture.
func (r *raster) toneAt(p r2.Vec) (colour, bool) {
	if !(p.X >= 0 && p.Y >= 0 && p.X <= float64(r.w-1) && p.Y <= float64(r.h-1)) {
		return colour{}, false
	}
	x, y := min(int(p.X), max(r.w-2, 0)), min(int(p.Y), max(r.h-2, 0))
	fx, fy := float32(p.X-float64(x)), float32(p.Y-float64(y))
	x1, y1 := min(x+1, r.w-1), min(y+1, r.h-1)
	a, b, c, d := r.tone(x, y), r.tone(x1, y), r.tone(x, y1), r.tone(x1, y1)
	var out colour
	for k := range out {
		top := a[k] + fx*(b[k]-a[k])
		bot := c[k] + fx*(d[k]-c[k])
		out[k] = top + fy*(bot-top)
	}
	return out, true
}

// small is a picture reduced by the whole number k: pixel (x, y) is the mean tone of a k x k block.
type small struct {
	w, h, k int
	pix     []colour
}

// shrink reduces the picture until its longer side has at most side pixels.
func (r *raster) shrink(side int) *small {
	k := max(1, (max(r.w, r.h)+side-1)/side)
	s := &small{w: r.w / k, h: r.h / k, k: k}
	s.pix = make([]colour, s.w*s.h)
	scale := 1 / float32(k*k)
	for y := range s.h {
		for x := range s.w {
			s.pix[y*s.w+x] = r.block(x*k, y*k, k, scale)
		}
	}
	return s
}

// block is the mean tone of the k x k pixels from (x0, y0).
func (r *raster) block(x0, y0, k int, scale float32) colour {
	var sum colour
	for y := y0; y < y0+k; y++ {
		for x := x0; x < x0+k; x++ {
			t := r.tone(x, y)
			sum[0] += t[0]
			sum[1] += t[1]
			sum[2] += t[2]
		}
	}
	return colour{sum[0] * scale, sum[1] * scale, sum[2] * scale}
}

// full takes small pixel coordinates to those of the full picture.
func (s *small) full(x, y float64) r2.Vec {
	k, off := float64(s.k), float64(s.k-1)/2
	return r2.Vec{X: k*x + off, Y: k*y + off}
}

// part is the inverse of full.
func (s *small) part(p r2.Vec) r2.Vec {
	k, off := float64(s.k), float64(s.k-1)/2
	return r2.Vec{X: (p.X - off) / k, Y: (p.Y - off) / k}
}
