package vision

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// drawing is a picture drawn by a test: shades of linear light 0 to 1 by place, seen through a lens and a sensor.
type drawing struct {
	w, h  int
	shade func(p r2.Vec) float64 // at a point, px
	blur  float64                // standard deviation, px
	noise float64                // standard deviation, levels of 255
	deep  bool                   // 16 bit
}

// drawnSamples samples a side of a pixel, each at a random place in its part of it, so that drawn edges have no steps.
const drawnSamples = 4

func (d drawing) photo(t testing.TB) *Photo {
	t.Helper()
	rng := rand.New(rand.NewPCG(1, 2))
	light := make([]float64, d.w*d.h)
	for y := range d.h {
		for x := range d.w {
			sum := 0.0
			for k := range drawnSamples * drawnSamples {
				at := r2.Vec{
					X: float64(x) - 0.5 + (float64(k%drawnSamples)+rng.Float64())/drawnSamples,
					Y: float64(y) - 0.5 + (float64(k/drawnSamples)+rng.Float64())/drawnSamples,
				}
				sum += d.shade(at)
			}
			light[y*d.w+x] = sum / (drawnSamples * drawnSamples)
		}
	}
	light = blurred(light, d.w, d.h, d.blur)
	img := image.NewGray16(image.Rect(0, 0, d.w, d.h))
	for i, v := range light {
		level := clamp(encode(v)+d.noise/255*rng.NormFloat64(), 0, 1)
		img.SetGray16(i%d.w, i/d.w, color.Gray16{Y: uint16(math.Round(65535 * level))})
	}
	var file image.Image = img
	if !d.deep {
		file = eightBits(img)
	}
	p, err := Decode(encoded(t, file, ".png"), "drawn.png")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	return p
}

// eightBits rounds a picture to 8 bits.
func eightBits(img *image.Gray16) *image.Gray {
	out := image.NewGray(img.Bounds())
	for i := range out.Pix {
		v := img.Gray16At(i%out.Stride, i/out.Stride).Y
		out.Pix[i] = uint8(math.Round(float64(v) / 257))
	}
	return out
}

// encode is the sRGB curve (IEC 61966-2-1).
func encode(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// blurred smooths a picture with a Gaussian.
func blurred(pix []float64, w, h int, sigma float64) []float64 {
	if sigma == 0 {
		return pix
	}
	r := int(math.Ceil(4 * sigma))
	kernel := make([]float64, 2*r+1)
	total := 0.0
	for k := range kernel {
		kernel[k] = math.Exp(-float64((k-r)*(k-r)) / (2 * sigma * sigma))
		total += kernel[k]
	}
	pass := func(in []float64, n, stride, lines, step int) []float64 {
		out := make([]float64, len(in))
		for l := range lines {
			for i := range n {
				sum := 0.0
				for k, v := range kernel {
					sum += v * in[l*step+min(max(i+k-r, 0), n-1)*stride]
				}
				out[l*step+i*stride] = sum / total
			}
		}
		return out
	}
	return pass(pass(pix, w, 1, h, w), h, w, w, 1)
}

// drawnBoard is a board in a drawing: its frame in mm has its origin at the outer corner of the top-left square.
type drawnBoard struct {
	rows, cols int
	at         r2.Vec  // px, of the board's middle
	square     float64 // px, of a square at the board's middle
	turn       float64 // rad
	tilt       float64 // how much nearer, as a part of the distance, the board is 100 mm further right and down
	whiteFirst bool
}

const drawnMargin = 12 // mm

// point is the picture of a point of the board, mm.
func (b drawnBoard) point(q r2.Vec) r2.Vec {
	q = r2.Sub(q, r2.Vec{X: 5 * float64(b.cols), Y: 5 * float64(b.rows)})
	w := 1 - b.tilt*(q.X+q.Y)/100
	return r2.Add(b.at, r2.Rotate(r2.Scale(b.square/10/w, q), b.turn, r2.Vec{}))
}

// plane is the inverse of point.
func (b drawnBoard) plane(p r2.Vec) r2.Vec {
	v := r2.Scale(10/b.square, r2.Rotate(r2.Sub(p, b.at), -b.turn, r2.Vec{}))
	// v = q/(1 - k (qx + qy)), so qx + qy = (vx + vy)/(1 + k (vx + vy)).
	w := 1 / (1 + b.tilt/100*(v.X+v.Y))
	return r2.Add(r2.Scale(w, v), r2.Vec{X: 5 * float64(b.cols), Y: 5 * float64(b.rows)})
}

// paper is what the board shows at p: false beside its card.
func (b drawnBoard) paper(p r2.Vec) (white, on bool) {
	q := b.plane(p)
	w, h := 10*float64(b.cols), 10*float64(b.rows)
	if q.X < -drawnMargin || q.Y < -drawnMargin || q.X > w+drawnMargin || q.Y > h+drawnMargin {
		return false, false
	}
	if q.X < 0 || q.Y < 0 || q.X >= w || q.Y >= h {
		return true, true
	}
	return (int(q.X/10)+int(q.Y/10))%2 == 1 != b.whiteFirst, true
}

// boards draws boards of white and black on a ground, lit as light says.
func boardsOn(ground float64, light func(p r2.Vec) float64, bs ...drawnBoard) func(r2.Vec) float64 {
	return func(p r2.Vec) float64 {
		v := ground
		for _, b := range bs {
			if white, on := b.paper(p); on {
				v = 0.03
				if white {
					v = 0.8
				}
			}
		}
		if light != nil {
			v *= light(p)
		}
		return v
	}
}
