package vision

import (
	"bytes"
	"fmt"
	"image"
	"image/color"

	"github.com/gen2brain/heic"
	"gocv.io/x/gocv"
)

// heifBrands are the brands of HEIF files that hold pictures coded by HEVC (ISO/IEC 23008-12, annex B). mif1 and msf1 leave the
// coding open: what cannot be decoded then says so.
var heifBrands = [...]string{"heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1"}

// leastHEIF is the shortest side of a picture that the decoder hands out rightly, px: it takes the rows of smaller ones, and of
// their colour differences at half the size, for shorter than they are.
const leastHEIF = 128

// isHEIF tells whether data begins as a HEIF file.
func isHEIF(data []byte) bool {
	if len(data) < 12 || string(data[4:8]) != "ftyp" {
		return false
	}
	for _, b := range heifBrands {
		if string(data[8:12]) == b {
			return true
		}
	}
	return false
}

// heifSize is the size of the largest picture that a HEIF file states, and whether all its pictures are there. The size may be that
// before the picture is turned.
func heifSize(data []byte) (size image.Point, whole bool) {
	h, ok := openHEIF(data)
	if !ok {
		return size, false
	}
	return h.largest, h.whole
}

// decodeHEIF decodes a HEIF file into BGR of 8 bits. The file itself says how its picture is to be turned, and the decoder turns it:
// the orientation in its EXIF data says the same once more and is passed over. It takes seconds, and cannot be stopped.
func decodeHEIF(data []byte) (m gocv.Mat, err error) {
	img, err := heic.Decode(bytes.NewReader(data))
	if err != nil {
		return m, err
	}
	size := img.Bounds().Size()
	if size.X < leastHEIF || size.Y < leastHEIF || size.X > maxSide || size.Y > maxSide || size.X*size.Y > maxPixels {
		return m, fmt.Errorf("a picture of %d x %d pixels", size.X, size.Y)
	}
	m = gocv.NewMatWithSize(size.Y, size.X, gocv.MatTypeCV8UC3)
	pix, err := m.DataPtrUint8()
	if err != nil {
		m.Close()
		return m, err
	}
	parallel(size.Y, func(y int) { bgrRow(img, y, pix[3*y*size.X:3*(y+1)*size.X]) })
	return m, nil
}

// bgrRow writes row y of img, counted from its top, as BGR.
func bgrRow(img image.Image, y int, out []byte) {
	b := img.Bounds()
	y += b.Min.Y
	if p, ok := img.(*image.YCbCr); ok {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := p.COffset(x, y)
			out[2], out[1], out[0] = color.YCbCrToRGB(p.Y[p.YOffset(x, y)], p.Cb[c], p.Cr[c])
			out = out[3:]
		}
		return
	}
	for x := b.Min.X; x < b.Max.X; x++ {
		c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
		out[0], out[1], out[2] = c.B, c.G, c.R
		out = out[3:]
	}
}
