package vision

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // for its DecodeConfig
	_ "image/png"  // for its DecodeConfig

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

// Decode decodes a JPEG, PNG, TIFF or WebP of 8 or 16 bits per channel and turns it upright by its EXIF
// orientation. name is used in messages. Close the photo after use.
func Decode(data []byte, name string) (*Photo, error) {
	format, size, err := inspect(data, name)
	if err != nil {
		return nil, err
	}
	if !complete(format, data) {
		return nil, fmt.Errorf("%s is incomplete, its end is missing: copy it again from the camera", name)
	}
	info := readEXIF(format, data)
	raw := gocv.NewMat()
	if format == "tiff" {
		data = withoutOrientation(data)
	}
	if err := guard.Decode(data, &raw); err != nil {
		raw.Close()
		return nil, fmt.Errorf("%s is damaged or of an unusual kind and cannot be read: save it again as a JPEG (%w)", name, err)
	}
	if raw.Cols() != size.X || raw.Rows() != size.Y {
		raw.Close()
		return nil, fmt.Errorf("%s is damaged: it states a size of %d x %d but holds another", name, size.X, size.Y)
	}
	return upright(raw, name, info)
}

// inspect finds out what data is without decoding it, and refuses what must not be decoded.
func inspect(data []byte, name string) (format string, size image.Point, err error) {
	if len(data) == 0 {
		return "", size, fmt.Errorf("%s is empty: copy it again from the camera", name)
	}
	cfg, format, err := image.DecodeConfig(bytes.NewReader(data))
	if !readable(format) || err != nil {
		return "", size, unreadable(data, name)
	}
	if cfg.Width < 1 || cfg.Height < 1 {
		return "", size, fmt.Errorf("%s holds no pixels: choose another photo", name)
	}
	if cfg.Width > maxSide || cfg.Height > maxSide || cfg.Width*cfg.Height > maxPixels {
		return "", size, fmt.Errorf("%s claims %d x %d pixels; at most %d megapixels and %d pixels a side can be read: save it smaller",
			name, cfg.Width, cfg.Height, maxPixels/1_000_000, maxSide)
	}
	return format, image.Pt(cfg.Width, cfg.Height), nil
}

// readable tells the formats that are decoded; other packages may have registered more with image.
func readable(format string) bool {
	switch format {
	case "jpeg", "png", "tiff", "webp":
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
		{4, "ftyphei", "HEIC"}, {4, "ftypmif1", "HEIC"}, {4, "ftypavif", "AVIF"},
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
	return fmt.Errorf("%s is not a picture: choose a JPEG, PNG, TIFF or WebP file", name)
}

// upright makes the photo out of the decoded pixels, which it takes over.
func upright(raw gocv.Mat, name string, info exifInfo) (*Photo, error) {
	p := &Photo{name: name, info: info, pixels: raw}
	if info.orientation != 1 {
		p.pixels = gocv.NewMat()
		err := guard.Orient(&raw, &p.pixels, info.orientation)
		raw.Close()
		if err != nil {
			p.pixels.Close()
			return nil, fmt.Errorf("cannot turn %s upright: %w", name, err)
		}
	}
	p.width, p.height = p.pixels.Cols(), p.pixels.Rows()
	var err error
	switch p.pixels.Type() {
	case gocv.MatTypeCV8UC3:
		p.b8, err = p.pixels.DataPtrUint8()
	case gocv.MatTypeCV16UC3:
		p.b16, err = p.pixels.DataPtrUint16()
	default:
		err = fmt.Errorf("pixels of type %d", p.pixels.Type())
	}
	if err != nil {
		p.pixels.Close()
		return nil, fmt.Errorf("%s has an unusual kind of pixel: save it again as a JPEG (%w)", name, err)
	}
	return p, nil
}
