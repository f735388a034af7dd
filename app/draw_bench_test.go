package app

import (
	"image"
	"math/rand/v2"
	"testing"

	"fyne.io/fyne/v2/theme"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// tall is a baluster of n elements, 800 mm, seen in a photograph of 24 megapixels.
func tall(n int) frame {
	p := profile.Pattern{Length: 800}
	step := p.Length / float64(n)
	for i := range n {
		e := profile.Element{Kind: profile.Cylinder, X0: float64(i) * step, X1: float64(i+1) * step, D0: 30, D1: 30}
		if i%2 == 1 {
			e.Kind, e.Sagitta = profile.Bead, step/4
		}
		p.Elements = append(p.Elements, e)
	}
	img := image.NewNRGBA(image.Rect(0, 0, 6000, 4000))
	r := rand.New(rand.NewPCG(1, 2))
	for i := range img.Pix {
		img.Pix[i] = uint8(r.Uint32())
	}
	return frame{
		photo: newPyramid(img), pattern: p, stations: p.Stations(), scope: fitScope(800, 820, 0), width: 820, bands: split(560, true),
		scene: view.Scene{
			Camera: view.Camera{F: 6000, Cx: 2999.5, Cy: 1999.5, Width: 6000, Height: 4000},
			Axis:   view.Line{P: r3.Vec{X: -400, Z: 900}, E: r3.Vec{X: 1}},
		},
		outline: view.Outline{Sides: [2][]view.EdgePoint{{{}}, {{}}}},
		colours: paletteFor(theme.VariantDark), selected: 3,
	}.prepared()
}

// BenchmarkFrame draws the three tracks of a 40 element baluster once, whole and zoomed in.
func BenchmarkFrame(b *testing.B) {
	faces, err := newFaces()
	if err != nil {
		b.Fatal(err)
	}
	for name, zoom := range map[string]float64{"whole": 1, "close": 8} {
		f := tall(40)
		f.scope = f.scope.zoomed(410, zoom)
		f = f.prepared()
		var drawn *image.RGBA
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				drawn = f.draw(820, 560, 1, faces, drawn)
			}
		})
	}
}

// BenchmarkPyramid builds what showing a 24 megapixel photograph needs.
func BenchmarkPyramid(b *testing.B) {
	img := image.NewNRGBA(image.Rect(0, 0, 6000, 4000))
	for b.Loop() {
		newPyramid(img)
	}
}
