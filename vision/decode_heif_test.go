package vision

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"testing"

	"golang.org/x/image/tiff"
)

// turned.heic was encoded by libheif from the quarters with EXIF orientation 6, and says in a box of its own (irot) that it is to be
// turned by a quarter, as phones do: it must be turned once.
func TestHEIFIsTurnedOnce(t *testing.T) {
	p, err := Load("testdata/turned.heic")
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	if w, h := p.Size(); w != 128 || h != 192 || quarters(p) != upside[6-1] {
		t.Errorf("%d x %d, quarters %s", w, h, quarters(p))
	}
	if p.Focal35() != 26 || p.Make() != "Maker 1" || p.Model() != "Model 22" {
		t.Errorf("focal %v make %q model %q", p.Focal35(), p.Make(), p.Model())
	}
}

func TestHEIF(t *testing.T) {
	p, err := Load("testdata/quarters.heic")
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	if w, h := p.Size(); w != 192 || h != 128 || quarters(p) != upside[0] || p.Focal35() != 0 {
		t.Errorf("%d x %d, quarters %s, focal %v", w, h, quarters(p), p.Focal35())
	}
}

func FuzzHEIFBoxes(f *testing.F) {
	for _, name := range []string{"quarters", "turned"} {
		data, err := os.ReadFile("testdata/" + name + ".heic")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
		f.Add(data[:len(data)/2])
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		h, ok := openHEIF(data)
		if ok && (h.largest.X < 1 || h.largest.Y < 1) {
			t.Errorf("size %v", h.largest)
		}
		if len(h.exif) > len(data) {
			t.Errorf("%d bytes of EXIF data in %d", len(h.exif), len(data))
		}
	})
}

// sixteen is a ramp whose neighbouring columns differ by less than a 255th.
func sixteen() *image.Gray16 {
	img := image.NewGray16(image.Rect(0, 0, 400, 20))
	for x := range 400 {
		for y := range 20 {
			img.SetGray16(x, y, color.Gray16{Y: uint16(20000 + 31*x)})
		}
	}
	return img
}

// The steps that only 16 bits tell apart are still there after reading.
func TestSixteenBitsAreKept(t *testing.T) {
	want := sixteen()
	wide := image.NewRGBA64(want.Bounds())
	for x := range 400 {
		for y := range 20 {
			wide.Set(x, y, want.At(x, y))
		}
	}
	for name, encode := range map[string]func(*bytes.Buffer) error{
		"grey PNG":   func(b *bytes.Buffer) error { return png.Encode(b, want) },
		"colour PNG": func(b *bytes.Buffer) error { return png.Encode(b, wide) },
		"grey TIFF":  func(b *bytes.Buffer) error { return tiff.Encode(b, want, nil) },
		"colour TIFF, deflated": func(b *bytes.Buffer) error {
			return tiff.Encode(b, wide, &tiff.Options{Compression: tiff.Deflate, Predictor: true})
		},
	} {
		var b bytes.Buffer
		if err := encode(&b); err != nil {
			t.Fatal(err)
		}
		p, err := Decode(b.Bytes(), name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if p.b16 == nil {
			t.Errorf("%s: read as 8 bits", name)
			p.Close()
			continue
		}
		for x := range 400 {
			if got := p.b16[3*(10*400+x)]; got != want.Gray16At(x, 10).Y {
				t.Errorf("%s: column %d is %d, want %d", name, x, got, want.Gray16At(x, 10).Y)
				break
			}
		}
		p.Close()
	}
}

func TestGreyJPEG(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 64, 48))
	for i := range img.Pix {
		img.Pix[i] = 180
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	p, err := Decode(b.Bytes(), "grey.jpg")
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	if c := p.Image().RGBAAt(30, 20); c.R != 180 || c.G != 180 || c.B != 180 {
		t.Errorf("grey 180 is %v", c)
	}
}

// cmyk.jpg holds the quarters in CMYK with a marker of Adobe's, inverted as that writes them; made with ImageMagick.
func TestCMYKJPEG(t *testing.T) {
	data, err := os.ReadFile("testdata/cmyk.jpg")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Decode(data, "cmyk.jpg")
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	if w, h := p.Size(); w != 48 || h != 32 || quarters(p) != "RGBW" {
		t.Errorf("%d x %d, quarters %s", w, h, quarters(p))
	}
}
