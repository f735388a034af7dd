package vision

import (
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"spindlestick/profile/view"
)

// tiltedBoard is a drawn board of 10 mm squares before a camera: its middle (mm, camera frame) and its tilts about the picture's
// axes after a turn in the picture (rad).
type tiltedBoard struct {
	cols                int
	at                  r3.Vec
	tiltX, tiltY, turns float64
}

// turned is the direction d of the board's frame (x along its columns, y down its rows, z away) in the camera's.
func (b tiltedBoard) turned(d r3.Vec) r3.Vec {
	d = r3.NewRotation(b.turns, r3.Vec{Z: 1}).Rotate(d)
	d = r3.NewRotation(b.tiltX, r3.Vec{X: 1}).Rotate(d)
	return r3.NewRotation(b.tiltY, r3.Vec{Y: 1}).Rotate(d)
}

// shade draws the board through a lens with k1 alone.
func (b tiltedBoard) shade(c view.Camera) func(r2.Vec) float64 {
	ex, ey, n := b.turned(r3.Vec{X: 1}), b.turned(r3.Vec{Y: 1}), b.turned(r3.Vec{Z: 1})
	w, h := 10*float64(b.cols), 10.0*boardRows
	return func(p r2.Vec) float64 {
		u := r2.Scale(1/c.F, r2.Sub(p, r2.Vec{X: c.Cx, Y: c.Cy}))
		ideal := u
		for range 8 { // each step leaves a tenth of the error before it, at the distortions drawn here
			ideal = r2.Scale(1/(1+c.K1*r2.Norm2(ideal)), u)
		}
		ray := r3.Vec{X: ideal.X, Y: ideal.Y, Z: 1}
		q := r3.Sub(r3.Scale(r3.Dot(n, b.at)/r3.Dot(n, ray), ray), b.at)
		x, y := r3.Dot(q, ex)+w/2, r3.Dot(q, ey)+h/2
		switch {
		case x < -drawnMargin || y < -drawnMargin || x > w+drawnMargin || y > h+drawnMargin:
			return 0.1
		case x < 0 || y < 0 || x >= w || y >= h || (int(x/10)+int(y/10))%2 == 1:
			return 0.8
		}
		return 0.03
	}
}

// shoot draws boards, each in a photograph of its own turned by an EXIF orientation, and returns the files' paths.
func shoot(t testing.TB, c view.Camera, orientation uint16, boards ...tiltedBoard) []string {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for i, b := range boards {
		p := drawing{w: c.Width, h: c.Height, shade: b.shade(c), blur: 0.7, noise: 1.5}.photo(t)
		path := filepath.Join(dir, fmt.Sprintf("board%d.png", i+1))
		file := pngWithEXIF(encoded(t, p.Image(), ".png"), exifBlock(orientation, 26))
		if err := os.WriteFile(path, file, 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

// rewrite changes the EXIF data of a photograph.
func rewrite(t testing.TB, path string, block []byte) string {
	t.Helper()
	p, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	var img image.Image = p.Image()
	file := encoded(t, img, ".png")
	if block != nil {
		file = pngWithEXIF(file, block)
	}
	out := filepath.Join(t.TempDir(), "rewritten.png")
	if err := os.WriteFile(out, file, 0o600); err != nil {
		t.Fatal(err)
	}
	return out
}

// drawnCamera has a lens of barrel distortion whose axis misses the middle.
func drawnCamera() view.Camera {
	return view.Camera{F: 560, Cx: 324, Cy: 237, K1: -0.08, Width: 640, Height: 480}
}

// tiltedBoards are the ways to hold a board that are asked for.
func tiltedBoards() []tiltedBoard {
	const q = math.Pi / 2
	return []tiltedBoard{
		{cols: 24, at: r3.Vec{Y: -50, Z: 270}, tiltY: 0.6},
		{cols: 24, at: r3.Vec{Y: 60, Z: 270}, tiltY: -0.6},
		{cols: 24, at: r3.Vec{X: -60, Z: 350}, tiltX: 0.6, turns: q},
		{cols: 24, at: r3.Vec{X: 70, Z: 350}, tiltX: -0.6, turns: q},
		{cols: 24, at: r3.Vec{Z: 300}, tiltX: 0.3, tiltY: 0.4, turns: 0.6},
		{cols: 24, at: r3.Vec{Z: 300}, tiltX: 0.4, tiltY: -0.3, turns: -0.6},
	}
}
