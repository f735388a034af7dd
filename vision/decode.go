package vision

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // for its DecodeConfig
	_ "image/png"  // for its DecodeConfig
	"sync"

	"gocv.io/x/gocv"
	_ "golang.org/x/image/tiff" // for its DecodeConfig
	_ "golang.org/x/image/webp" // for its DecodeConfig

	"spindlestick/vision/internal/guard"
)

// Limits on what is decoded. 120 megapixels take 360 MB at 8 bits and twice that at 16, with as much again
// while the picture is turned upright; OpenCV's coordinates end at 32767 px.
const (
	maxPixels   = 120_000_000
	maxSide     = 32767
	maxFileSize = 1 << 30
)

// Decode decodes a JPEG, HEIC, PNG, TIFF or WebP of 8 or 16 bits per channel and turns it upright by its EXIF
// orientation. name is used in messages. Close the photo after use.
func Decode(data []byte, name string) (*Photo, error) {
	f, err := newFile(data, name)
	if err != nil {
		return nil, err
	}
	p := f.photo()
	p.whole = sync.OnceValue(func() error { return p.fill(f) })
	if err := p.whole(); err != nil {
		return nil, err
	}
	return p, nil
}

// file is a picture file that was looked over, but not decoded.
type file struct {
	data         []byte
	name, format string
	size         image.Point // as stored, before it is turned upright
	info         exifInfo
}

func newFile(data []byte, name string) (*file, error) {
	format, size, err := inspect(data, name)
	if err != nil {
		return nil, err
	}
	if !complete(format, data) {
		return nil, fmt.Errorf("%s is incomplete, its end is missing: copy it again from the camera", name)
	}
	f := &file{data: data, name: name, format: format, size: size, info: readEXIF(format, data)}
	if format == "tiff" {
		f.data = withoutOrientation(data)
	}
	return f, nil
}

// photo is a photo without its pixels.
func (f *file) photo() *Photo {
	p := &Photo{name: f.name, info: f.info, width: f.size.X, height: f.size.Y}
	if turned := f.info.orientation > 4; turned {
		p.width, p.height = p.height, p.width
	}
	return p
}

// decode returns the picture, upright and reduced by 1, 4 or 8; only a JPEG can be reduced. Close the Mat unless
// there is an error.
func (f *file) decode(by int) (gocv.Mat, error) {
	raw := gocv.NewMat()
	var err error
	if f.format == "heif" {
		raw.Close()
		raw, err = decodeHEIF(f.data)
	} else if err = guard.Decode(f.data, &raw, by); err != nil {
		raw.Close()
	}
	if err != nil {
		return raw, fmt.Errorf("%s is damaged or of an unusual kind and cannot be read: save it again as a JPEG (%w)", f.name, err)
	}
	if f.format == "heif" { // the size stated was that before it was turned and trimmed
		return raw, nil
	}
	if raw.Cols() != (f.size.X+by-1)/by || raw.Rows() != (f.size.Y+by-1)/by {
		raw.Close()
		return raw, fmt.Errorf("%s is damaged: it states a size of %d x %d but holds another", f.name, f.size.X, f.size.Y)
	}
	if f.info.orientation == 1 {
		return raw, nil
	}
	defer raw.Close()
	turned := gocv.NewMat()
	if err := guard.Orient(&raw, &turned, f.info.orientation); err != nil {
		turned.Close()
		return turned, fmt.Errorf("cannot turn %s upright: %w", f.name, err)
	}
	return turned, nil
}

// inspect finds out what data is without decoding it, and refuses what must not be decoded.
func inspect(data []byte, name string) (format string, size image.Point, err error) {
	if len(data) == 0 {
		return "", size, fmt.Errorf("%s is empty: copy it again from the camera", name)
	}
	if isHEIF(data) {
		format = "heif"
		size, _ = heifSize(data)
	} else {
		var cfg image.Config
		cfg, format, err = image.DecodeConfig(bytes.NewReader(data))
		size = image.Pt(cfg.Width, cfg.Height)
	}
	if !readable(format) || err != nil || format == "heif" && size == (image.Point{}) {
		return "", size, unreadable(data, name)
	}
	if size.X < 1 || size.Y < 1 {
		return "", size, fmt.Errorf("%s holds no pixels: choose another photo", name)
	}
	if size.X > maxSide || size.Y > maxSide || size.X*size.Y > maxPixels {
		return "", size, fmt.Errorf("%s claims %d x %d pixels; at most %d megapixels and %d pixels a side can be read: save it smaller",
			name, size.X, size.Y, maxPixels/1_000_000, maxSide)
	}
	return format, size, nil
}

// readable tells the formats that are decoded; other packages may have registered more with image.
func readable(format string) bool {
	switch format {
	case "jpeg", "heif", "png", "tiff", "webp":
		return true
	}
	return false
}

// unreadable says why data is not a photo that can be read.
func unreadable(data []byte, name string) error {
	for _, k := range []struct {
		at          int
		magic, kind string
	}{
		{0, "\xff\xd8\xff", ""}, {0, "\x89PNG", ""}, {0, "II*\x00", ""}, {0, "MM\x00*", ""}, {8, "WEBP", ""},
		{4, "ftyphei", ""}, {4, "ftyphev", ""}, {4, "ftypmif1", ""}, {4, "ftypmsf1", ""}, {4, "ftypavif", "AVIF"},
		{0, "GIF8", "GIF"}, {0, "BM", "BMP"}, {0, "%PDF", "PDF"},
	} {
		if len(data) < k.at+len(k.magic) || string(data[k.at:k.at+len(k.magic)]) != k.magic {
			continue
		}
		if k.kind != "" {
			return fmt.Errorf("%s is a %s file, which cannot be read: export it as a JPEG", name, k.kind)
		}
		return fmt.Errorf("%s is damaged or incomplete: copy it again from the camera", name)
	}
	return fmt.Errorf("%s is not a picture: choose a JPEG, HEIC, PNG, TIFF or WebP file", name)
}
