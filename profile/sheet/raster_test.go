package sheet_test

import (
	"bufio"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"slices"
	"testing"

	"spindlestick/profile/sheet"
)

// raster is a grey picture of a page, measured in mm: pixel i covers i to i+1, times 25.4/dpi.
type raster struct {
	w, h int
	pix  []byte
	k    float64 // pixels a mm
}

func newRaster(img image.Image, dpi float64) raster {
	b := img.Bounds()
	r := raster{b.Dx(), b.Dy(), make([]byte, b.Dx()*b.Dy()), dpi / 25.4}
	for y := range r.h {
		for x := range r.w {
			g, _, _, _ := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
			r.pix[y*r.w+x] = byte(g >> 8)
		}
	}
	return r
}

func readPNG(t *testing.T, path string, dpi float64) raster {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return newRaster(img, dpi)
}

// readPGM reads a binary portable greymap of 8 bits.
func readPGM(t *testing.T, path string, dpi float64) raster {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	b := bufio.NewReader(f)
	var r raster
	var top int
	if _, err := fmt.Fscanf(b, "P5\n%d %d\n%d\n", &r.w, &r.h, &top); err != nil || top != 255 {
		t.Fatalf("%s: not a greymap (%v)", path, err)
	}
	r.pix, r.k = make([]byte, r.w*r.h), dpi/25.4
	if _, err := io.ReadFull(b, r.pix); err != nil {
		t.Fatal(err)
	}
	return r
}

// dark is the blackness at a pixel, 0 to 1, of what is darker than any tint.
func (r raster) dark(x, y int) float64 {
	if x < 0 || y < 0 || x >= r.w || y >= r.h {
		return 0
	}
	return math.Max(0, 200-float64(r.pix[y*r.w+x])) / 200
}

// window is how far to either side a line is looked for, mm.
const window = 0.6

// upright measures where an upright line near x stands, between two heights.
func (r raster) upright(x, y0, y1 float64) float64 { return r.middle(x, y0, y1, 0.5, r.dark) }

// broken is the same for a line of which a third at least is black.
func (r raster) broken(x, y0, y1 float64) float64 { return r.middle(x, y0, y1, 0.7, r.dark) }

// middle is the middle of the blackness that columns show over a share of their rows, so that what crosses the line
// does not count.
func (r raster) middle(x, y0, y1, share float64, dark func(along, across int) float64) float64 {
	sum, moment := 0.0, 0.0
	for a := int((x - window) * r.k); a <= int((x+window)*r.k); a++ {
		var rows []float64
		for b := int(y0 * r.k); b <= int(y1*r.k); b++ {
			rows = append(rows, dark(a, b))
		}
		slices.Sort(rows)
		d := rows[int(share*float64(len(rows)))]
		sum, moment = sum+d, moment+d*(float64(a)+0.5)
	}
	return moment / sum / r.k
}

// rightSide measures where a black area ends near x: the blackness of a row adds up to its length.
func (r raster) rightSide(x, y0, y1 float64) float64 {
	start := int((x - 2) * r.k)
	rows, sum := 0.0, 0.0
	for b := int(y0 * r.k); b <= int(y1*r.k); b++ {
		full := r.dark(start, b)
		for a := start; a <= int((x+0.8)*r.k); a++ {
			sum += r.dark(a, b) / full
		}
		rows++
	}
	return (float64(start) + sum/rows) / r.k
}

// length measures a check bar between the middles of its end ticks, which stand to its left or over it.
func (r raster) length(a, b sheet.Point) float64 {
	if a.Y == b.Y {
		return r.upright(b.X, b.Y-2.6, b.Y-0.6) - r.upright(a.X, a.Y-2.6, a.Y-0.6)
	}
	turned := func(along, across int) float64 { return r.dark(across, along) }
	return r.middle(b.Y, b.X-2.6, b.X-0.6, 0.5, turned) - r.middle(a.Y, a.X-2.6, a.X-0.6, 0.5, turned)
}
