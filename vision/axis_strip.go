package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// strip is the picture resampled along an axis: column i is station X0 + i Step, row j is offset
// (mid - j) Step to the left of the axis. Tones, not light: it is for finding, not for measuring.
type strip struct {
	f      frame
	step   float64 // full-size pixels per sample
	x0     float64 // station of column 0, px
	nx, ny int
	mid    int // the row on the axis
	pix    []colour
	ok     []bool // inside the picture and on no reference
}

// newStrip resamples the picture from station -pad to L + pad, and up to reach to either side (px).
func newStrip(r *raster, c *cover, f frame, step, pad, reach float64) *strip {
	mid := int(math.Ceil(reach / step))
	s := &strip{f: f, step: step, x0: -pad, nx: int((f.L+2*pad)/step) + 1, ny: 2*mid + 1, mid: mid}
	s.pix = make([]colour, s.nx*s.ny)
	s.ok = make([]bool, s.nx*s.ny)
	parallel(s.ny, func(j int) {
		p, along := f.at(s.x0, s.offset(float64(j))), r2.Scale(step, f.E)
		for k := j * s.nx; k < (j+1)*s.nx; k++ {
			s.pix[k], s.ok[k] = r.toneAt(p)
			s.ok[k] = s.ok[k] && !c.hides(p)
			p = r2.Add(p, along)
		}
	})
	return s
}

// station is the distance along the axis of column i, px.
func (s *strip) station(i float64) float64 { return s.x0 + i*s.step }

// offset is the distance to the left of the axis of row j, px.
func (s *strip) offset(j float64) float64 { return (float64(s.mid) - j) * s.step }

// columns hands out the columns of a field of samples that is stored by rows, a few at a time.
type columns struct {
	field  []float32
	nx, ny int
	first  int // of the columns in room; -1: none yet
	room   []float32
}

// columnsAtOnce is how many columns share a line of the processor's cache.
const columnsAtOnce = 16

func newColumns(field []float32, nx, ny int) columns {
	return columns{field, nx, ny, -1, make([]float32, columnsAtOnce*ny)}
}

// at is column i, until the next call.
func (c *columns) at(i int) []float32 {
	first := i - i%columnsAtOnce
	if first != c.first {
		c.first = first
		last := min(first+columnsAtOnce, c.nx)
		for j := range c.ny {
			for k, v := range c.field[j*c.nx+first : j*c.nx+last] {
				c.room[k*c.ny+j] = v
			}
		}
	}
	k := i - first
	return c.room[k*c.ny : (k+1)*c.ny]
}

// rises is the strength of the change of tone across the axis at each sample, as a share of contrast, at most 1.
func (s *strip) rises(contrast float64) []float32 {
	out := make([]float32, len(s.pix))
	scale := float32(1 / math.Max(contrast, 1))
	parallel(max(s.ny-2, 0), func(j int) {
		for k := (j + 1) * s.nx; k < (j+2)*s.nx; k++ {
			if s.ok[k] && s.ok[k-s.nx] && s.ok[k+s.nx] {
				a, b := &s.pix[k-s.nx], &s.pix[k+s.nx]
				x, y, z := a[0]-b[0], a[1]-b[1], a[2]-b[2]
				out[k] = min(1, scale*float32(math.Sqrt(float64(x*x+y*y+z*z))))
			}
		}
	})
	return out
}
