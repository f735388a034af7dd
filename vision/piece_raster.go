package vision

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// colour is one colour in sRGB tones, 0..255 each.
type colour [3]float32

// raster is the upright picture, at full size or reduced by k: three interleaved channels of 8 or 16 bits.
type raster struct {
	w, h  int
	k     int
	p8    []uint8   // one of p8 and p16 is set
	p16   []uint16  //
	light []float32 // stored value -> linear light 0..1
}

// rgb is one colour in linear light, 0..1 each.
type rgb [3]float32

// rough views the photo's sketch, or its pixels if it has none, without copying them.
func (p *Photo) rough() (*raster, error) {
	if !p.sketched() {
		err := p.open()
		return p.raster(), err
	}
	pix, err := p.sketch.DataPtrUint8()
	if err != nil {
		return nil, fmt.Errorf("cannot read the reduced photo: %w", err)
	}
	r := newRaster8(p.sketch.Cols(), p.sketch.Rows(), pix)
	r.k = p.sketchBy
	return r, nil
}

// raster views the photo's pixels without copying them.
func (p *Photo) raster() *raster {
	if p.b16 != nil {
		return newRaster16(p.width, p.height, p.b16)
	}
	return newRaster8(p.width, p.height, p.b8)
}

// newRaster8 wraps interleaved 8-bit data; the data are not copied.
func newRaster8(w, h int, pix []uint8) *raster {
	return &raster{w: w, h: h, k: 1, p8: pix, light: lightTable(256)}
}

// newRaster16 wraps interleaved 16-bit data; the data are not copied.
func newRaster16(w, h int, pix []uint16) *raster {
	return &raster{w: w, h: h, k: 1, p16: pix, light: lightTable(65536)}
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

// lightOf is the linear light of the pixel whose channels begin at place i, 0..1.
func (r *raster) lightOf(i int) rgb {
	if r.p8 != nil {
		return rgb{r.light[r.p8[i]], r.light[r.p8[i+1]], r.light[r.p8[i+2]]}
	}
	return rgb{r.light[r.p16[i]], r.light[r.p16[i+1]], r.light[r.p16[i+2]]}
}

// toneAt interpolates the tones at p (px of the full size) linearly, and says false outside the picture.
func (r *raster) toneAt(p r2.Vec) (out colour, ok bool) {
	if r.k > 1 {
		k, off := 1/float64(r.k), float64(r.k-1)/2
		p = r2.Vec{X: (p.X - off) * k, Y: (p.Y - off) * k}
	}
	if !(p.X >= 0 && p.Y >= 0 && p.X <= float64(r.w-1) && p.Y <= float64(r.h-1)) {
		return out, false
	}
	x, y := min(int(p.X), max(r.w-2, 0)), min(int(p.Y), max(r.h-2, 0))
	fx, fy := float32(p.X-float64(x)), float32(p.Y-float64(y))
	right, down := 3*min(1, r.w-1-x), 3*r.w*min(1, r.h-1-y)
	if i := 3 * (y*r.w + x); r.p8 != nil {
		mix4(&out, r.p8[i:i+3], r.p8[i+right:i+right+3], r.p8[i+down:i+down+3], r.p8[i+down+right:i+down+right+3], fx, fy, 1)
	} else {
		mix4(&out, r.p16[i:i+3], r.p16[i+right:i+right+3], r.p16[i+down:i+down+3], r.p16[i+down+right:i+down+right+3], fx, fy, 255.0/65535)
	}
	return out, true
}

// mix4 is scale times the bilinear mean of four neighbouring pixels.
func mix4[T uint8 | uint16](out *colour, a, b, c, d []T, fx, fy, scale float32) {
	a, b, c, d = a[:3], b[:3], c[:3], d[:3]
	wd := scale * fx * fy
	wb, wc := scale*fx-wd, scale*fy-wd
	wa := scale - wb - wc - wd
	out[0] = wa*float32(a[0]) + wb*float32(b[0]) + wc*float32(c[0]) + wd*float32(d[0])
	out[1] = wa*float32(a[1]) + wb*float32(b[1]) + wc*float32(c[1]) + wd*float32(d[1])
	out[2] = wa*float32(a[2]) + wb*float32(b[2]) + wc*float32(c[2]) + wd*float32(d[2])
}

// small is a picture reduced by the whole number k: pixel (x, y) is the mean tone of a k x k block.
type small struct {
	w, h, k int
	pix     []colour
}

// small reduces the photo until its longer side has at most side pixels.
func (p *Photo) small(side int) (*small, error) {
	k := max(1, (max(p.width, p.height)+side-1)/side)
	m, err := p.reducedBy(min(k, p.width, p.height))
	if err != nil {
		return nil, err
	}
	defer m.Close()
	pix, err := m.DataPtrUint8()
	if err != nil {
		return nil, fmt.Errorf("cannot read the reduced photo: %w", err)
	}
	s := &small{w: m.Cols(), h: m.Rows(), k: k}
	s.pix = make([]colour, s.w*s.h)
	for i := range s.pix {
		s.pix[i] = colour{float32(pix[3*i]), float32(pix[3*i+1]), float32(pix[3*i+2])}
	}
	return s, nil
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
