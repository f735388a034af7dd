package vision

import (
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"

	"gocv.io/x/gocv"
)

// ErrClosed says that a photo was used after Close.
var ErrClosed = errors.New("vision: the photo was closed")

// Photo is a decoded photograph, turned upright. It never changes after Decode, so several goroutines may
// read it; Close it when none does any longer.
type Photo struct {
	name string
	info exifInfo

	width, height int
	shut          bool

	// sketch is a smaller copy, sketchBy times, upright BGR of 8 bits; a photo need not have one, sketchBy is 0 then.
	sketch   gocv.Mat
	sketchBy int

	// whole waits until the pixels below are there; those who do not use a photo of begin need not call it.
	whole func() error
	// pixels is upright BGR of 8 or 16 bits, continuous. Exactly one of b8 and b16 views its memory.
	pixels gocv.Mat
	b8     []uint8
	b16    []uint16
}

// Load reads and decodes the photograph at path.
func Load(path string) (*Photo, error) {
	st, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("cannot open the photo: %w", err)
	}
	if st.IsDir() {
		return nil, fmt.Errorf("%s is a folder: choose a photo in it", path)
	}
	if st.Size() > maxFileSize {
		return nil, fmt.Errorf("%s has %d MB, more than the %d MB that can be read: save it as a JPEG", path, st.Size()>>20, maxFileSize>>20)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the photo: %w", err)
	}
	return Decode(data, filepath.Base(path))
}

// Name is the name the photo was decoded under.
func (p *Photo) Name() string { return p.name }

// Size is the width and height of the upright picture in pixels.
func (p *Photo) Size() (width, height int) { return p.width, p.height }

// Focal35 is the 35 mm equivalent focal length from the file in mm, 0 if it states none that makes sense.
func (p *Photo) Focal35() float64 { return p.info.focal35 }

// Make is the maker of the camera as the file states it.
func (p *Photo) Make() string { return p.info.maker }

// Model is the model of the camera as the file states it.
func (p *Photo) Model() string { return p.info.model }

// Close frees the picture. A photo may be closed twice.
func (p *Photo) Close() {
	if p.closed() {
		return
	}
	p.shut = true
	if p.sketchBy > 0 {
		p.sketch.Close()
	}
	if p.whole() == nil {
		p.b8, p.b16 = nil, nil
		p.pixels.Close()
	}
}

// Image is a copy of the upright picture in 8 bits, tight and starting at (0, 0); nil after Close.
func (p *Photo) Image() *image.RGBA {
	if p.open() != nil {
		return nil
	}
	img := image.NewRGBA(image.Rect(0, 0, p.width, p.height))
	dst := img.Pix
	if p.b16 != nil {
		for i, j := 0, 0; i+2 < len(p.b16); i, j = i+3, j+4 {
			dst[j], dst[j+1], dst[j+2], dst[j+3] = high(p.b16[i+2]), high(p.b16[i+1]), high(p.b16[i]), 255
		}
		return img
	}
	for i, j := 0, 0; i+2 < len(p.b8); i, j = i+3, j+4 {
		dst[j], dst[j+1], dst[j+2], dst[j+3] = p.b8[i+2], p.b8[i+1], p.b8[i], 255
	}
	return img
}

// high is a 16 bit value in 8 bits, rounded so that 65535 is 255 and 0 is 0.
func high(v uint16) uint8 { return uint8((uint32(v) + 128) / 257) }

func (p *Photo) closed() bool { return p == nil || p.shut }

// open waits for the pixels. It returns ErrClosed for a photo that cannot be used.
func (p *Photo) open() error {
	if p.closed() {
		return ErrClosed
	}
	return p.whole()
}

// fill decodes the pixels.
func (p *Photo) fill(f *file) error {
	m, err := f.decode(1)
	if err != nil {
		return err
	}
	switch m.Type() {
	case gocv.MatTypeCV8UC3:
		p.b8, err = m.DataPtrUint8()
	case gocv.MatTypeCV16UC3:
		p.b16, err = m.DataPtrUint16()
	default:
		err = fmt.Errorf("pixels of type %d", m.Type())
	}
	if err != nil {
		m.Close()
		return fmt.Errorf("%s has an unusual kind of pixel: save it again as a JPEG (%w)", p.name, err)
	}
	p.pixels, p.width, p.height = m, m.Cols(), m.Rows()
	return nil
}
