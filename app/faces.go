package app

import (
	"math"

	"fyne.io/fyne/v2/theme"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/vector"
)

// faces keeps the fonts of the tracks, which are the window's, at the sizes in use. It is used by the drawing goroutine alone.
type faces struct {
	regular, bold *opentype.Font
	made          map[faceKey]font.Face
	filler        vector.Rasterizer // what shapes are filled with
}

type faceKey struct {
	eighths int // size in eighths of a px
	bold    bool
}

func newFaces() (*faces, error) {
	regular, err := opentype.Parse(theme.DefaultTextFont().Content())
	if err != nil {
		return nil, err
	}
	bold, err := opentype.Parse(theme.DefaultTextBoldFont().Content())
	if err != nil {
		return nil, err
	}
	return &faces{regular: regular, bold: bold, made: map[faceKey]font.Face{}}, nil
}

// get returns the face of a size in px; nil when the size is of no use.
func (f *faces) get(px float64, bold bool) font.Face {
	key := faceKey{int(math.Round(px * 8)), bold}
	if face, ok := f.made[key]; ok {
		return face
	}
	src := f.regular
	if bold {
		src = f.bold
	}
	face, err := opentype.NewFace(src, &opentype.FaceOptions{Size: float64(key.eighths) / 8, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return nil
	}
	f.made[key] = face
	return face
}
