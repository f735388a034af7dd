package vision

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// widePicture is a JPEG of w x h pixels whose tones grow to the right and down.
func widePicture(t *testing.T, w, h int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, color.RGBA{uint8(255 * x / w), uint8(255 * y / h), 90, 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A photo with a sketch is in the end the photo that Decode gives, and its sketch shows the same, turned the same way.
func TestSketchShowsThePhoto(t *testing.T) {
	for _, orientation := range []uint16{1, 6, 8} {
		data := jpegWithEXIF(widePicture(t, sketchFrom+8, 304), exifBlock(orientation, 26))
		want, err := Decode(data, "x.jpg")
		if err != nil {
			t.Fatal(err)
		}
		p, err := begin(data, "x.jpg")
		if err != nil {
			t.Fatal(err)
		}
		if !p.sketched() || p.width != want.width || p.height != want.height {
			t.Fatalf("orientation %d: sketch %v, %d x %d", orientation, p.sketched(), p.width, p.height)
		}
		small, err := p.small(findSide)
		if err != nil {
			t.Fatal(err)
		}
		other, err := want.small(findSide)
		if err != nil {
			t.Fatal(err)
		}
		for y := range min(small.h, other.h) {
			for x := range min(small.w, other.w) {
				if d := dist(small.pix[y*small.w+x], other.pix[y*other.w+x]); d > 3 {
					t.Fatalf("orientation %d: tones %.1f apart at (%d, %d)", orientation, d, x, y)
				}
			}
		}
		if err := p.open(); err != nil || !bytes.Equal(p.b8, want.b8) {
			t.Errorf("orientation %d: other pixels, error %v", orientation, err)
		}
		p.Close()
		want.Close()
	}
}

// A tone at a place of the photo is the same in the sketch.
func TestSketchKeepsPlaces(t *testing.T) {
	p, err := begin(widePicture(t, sketchFrom, 400), "x.jpg")
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	rough, err := p.rough()
	if err != nil {
		t.Fatal(err)
	}
	if err := p.open(); err != nil {
		t.Fatal(err)
	}
	fine := p.raster()
	for x := 20.0; x < sketchFrom-20; x += 333.3 {
		q := r2.Vec{X: x, Y: 200}
		a, _ := rough.toneAt(q)
		b, _ := fine.toneAt(q)
		// A step of one tone is 20 px wide: half a pixel of the sketch is a tenth of a tone.
		if math.Abs(float64(a[2]-b[2])) > 1.5 {
			t.Errorf("at %.0f: %.1f and %.1f", x, a[2], b[2])
		}
	}
}

func TestPhotosWithoutSketch(t *testing.T) {
	for name, data := range map[string][]byte{
		"small":                             widePicture(t, 600, 400),
		"turned, no whole number of blocks": jpegWithEXIF(widePicture(t, sketchFrom+7, 302), exifBlock(6, 26)),
	} {
		p, err := begin(data, "x.jpg")
		if err != nil {
			t.Fatal(err)
		}
		if p.sketched() || p.b8 == nil {
			t.Errorf("%s: not decoded at once", name)
		}
		p.Close()
	}
}

func TestSketchedPhotoCanBeClosedAtOnce(t *testing.T) {
	p, err := begin(widePicture(t, sketchFrom, 400), "x.jpg")
	if err != nil {
		t.Fatal(err)
	}
	p.Close()
	p.Close()
	if _, err := FindBoards(context.Background(), p, 0); !errors.Is(err, ErrClosed) {
		t.Errorf("error %v", err)
	}
}
