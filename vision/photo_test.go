package vision

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/tiff"
)

// testPicture is 48 x 32 px with a red, a green, a blue and a white quarter: red top left, green top right, blue bottom left.
func testPicture(t testing.TB, ext string, deep bool) []byte {
	t.Helper()
	var img draw.Image = image.NewNRGBA(image.Rect(0, 0, 48, 32))
	if deep {
		img = image.NewNRGBA64(img.Bounds())
	}
	for y := range 32 {
		for x := range 48 {
			c := color.NRGBA{A: 255}
			switch {
			case y < 16 && x < 24:
				c.R = 255
			case y < 16:
				c.G = 255
			case x < 24:
				c.B = 255
			default:
				c = color.NRGBA{255, 255, 255, 255}
			}
			img.Set(x, y, c)
		}
	}
	return encoded(t, img, ext)
}

// encoded is img in a file by an encoder other than the decoder under test; a WebP or HEIC is the one in testdata.
func encoded(t testing.TB, img image.Image, ext string) []byte {
	t.Helper()
	var b bytes.Buffer
	var err error
	switch ext {
	case ".jpg":
		err = jpeg.Encode(&b, img, &jpeg.Options{Quality: 100})
	case ".png":
		err = png.Encode(&b, img)
	case ".tiff":
		err = tiff.Encode(&b, img, nil)
	case ".webp", ".heic":
		var data []byte
		data, err = os.ReadFile("testdata/quarters" + ext)
		b.Write(data)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// exifBlock is a little-endian TIFF structure of IFD0 (make, model, orientation) and the EXIF directory (focal length).
func exifBlock(orientation, focal35 uint16) []byte {
	le := binary.LittleEndian
	entry := func(b []byte, tag, kind uint16, count, value uint32) []byte {
		b = le.AppendUint32(le.AppendUint16(le.AppendUint16(b, tag), kind), count)
		return le.AppendUint32(b, value)
	}
	const ifd0, exifAt, textAt = 8, 8 + 2 + 4*12 + 4, 8 + 2 + 4*12 + 4 + 2 + 12 + 4
	b := le.AppendUint32([]byte("II*\x00"), ifd0)
	b = le.AppendUint16(b, 4)
	b = entry(b, tagMake, typeASCII, 8, textAt)
	b = entry(b, tagModel, typeASCII, 10, textAt+8)
	b = entry(b, tagOrientation, typeShort, 1, uint32(orientation))
	b = entry(b, tagEXIF, typeLong, 1, exifAt)
	b = le.AppendUint32(b, 0)
	b = le.AppendUint16(b, 1)
	b = entry(b, tagFocal35, typeShort, 1, uint32(focal35))
	b = le.AppendUint32(b, 0)
	return append(b, "Maker 1\x00Model 22 \x00"...)
}

func jpegWithEXIF(jpg, block []byte) []byte {
	body := append([]byte("Exif\x00\x00"), block...)
	seg := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(body)+2))
	return bytes.Join([][]byte{jpg[:2], seg, body, jpg[2:]}, nil)
}

func pngWithEXIF(pic, block []byte) []byte {
	const afterIHDR = 8 + 8 + 13 + 4
	chunk := append([]byte("eXIf"), block...)
	sum := crc32.ChecksumIEEE(chunk)
	chunk = append(binary.BigEndian.AppendUint32(nil, uint32(len(block))), chunk...)
	chunk = binary.BigEndian.AppendUint32(chunk, sum)
	return bytes.Join([][]byte{pic[:afterIHDR], chunk, pic[afterIHDR:]}, nil)
}

// quarters names the colours of an upright photo's quarters, row by row.
func quarters(p *Photo) string {
	img := p.Image()
	w, h := p.Size()
	var out []byte
	for _, at := range [][2]int{{w / 4, h / 4}, {3 * w / 4, h / 4}, {w / 4, 3 * h / 4}, {3 * w / 4, 3 * h / 4}} {
		c := img.RGBAAt(at[0], at[1])
		out = append(out, nearestOf(c))
	}
	return string(out)
}

func nearestOf(c color.RGBA) byte {
	best, name := math.Inf(1), byte('?')
	for k, v := range map[byte][3]float64{'R': {255, 0, 0}, 'G': {0, 255, 0}, 'B': {0, 0, 255}, 'W': {255, 255, 255}, 'K': {}} {
		if d := math.Abs(v[0]-float64(c.R)) + math.Abs(v[1]-float64(c.G)) + math.Abs(v[2]-float64(c.B)); d < best {
			best, name = d, k
		}
	}
	return name
}

func TestDecodeKinds(t *testing.T) {
	for _, c := range []struct {
		ext  string
		deep bool
	}{
		{".jpg", false}, {".png", false}, {".tiff", false},
		{".webp", false}, {".png", true}, {".tiff", true},
	} {
		p, err := Decode(testPicture(t, c.ext, c.deep), "x"+c.ext)
		if err != nil {
			t.Errorf("%s: %v", c.ext, err)
			continue
		}
		w, h := p.Size()
		if got := quarters(p); w != 48 || h != 32 || got != "RGBW" || (p.b16 != nil) != c.deep {
			t.Errorf("%s: %d x %d, quarters %s, 16 bit %v", c.ext, w, h, got, p.b16 != nil)
		}
		p.Close()
	}
}

// upside lists where the quarters of RG/BW come to lie under each orientation of CIPA DC-008, tag 0x0112.
var upside = [8]string{"RGBW", "GRWB", "WBGR", "BWRG", "RBGW", "BRWG", "WGBR", "GWRB"}

func TestOrientations(t *testing.T) {
	jpg, pic := testPicture(t, ".jpg", false), testPicture(t, ".png", true)
	tiff8, tiff16 := testPicture(t, ".tiff", false), testPicture(t, ".tiff", true)
	for i, want := range upside {
		block := exifBlock(uint16(i+1), 26)
		for name, data := range map[string][]byte{
			"x.jpg": jpegWithEXIF(jpg, block), "x.png": pngWithEXIF(pic, block),
			"8.tiff": tiffOriented(t, tiff8, i+1), "16.tiff": tiffOriented(t, tiff16, i+1),
		} {
			p, err := Decode(data, name)
			if err != nil {
				t.Fatal(err)
			}
			w, h := p.Size()
			if turned := i >= 4; (w == 32) != turned || (h == 48) != turned {
				t.Errorf("%s orientation %d: %d x %d", name, i+1, w, h)
			}
			if got := quarters(p); got != want {
				t.Errorf("%s orientation %d: quarters %s, want %s", name, i+1, got, want)
			}
			p.Close()
		}
	}
}

// tiffOriented sets the orientation of a TIFF as OpenCV writes it, by replacing the entry of a tag that changes
// nothing (0x011a to 0x0131: resolution or software) or adding to an existing orientation.
func tiffOriented(t *testing.T, data []byte, orientation int) []byte {
	t.Helper()
	le := binary.LittleEndian
	data = bytes.Clone(data)
	dir := int(le.Uint32(data[4:]))
	n := int(le.Uint16(data[dir:]))
	entries := [][]byte{}
	for i := range n {
		e := data[dir+2+12*i : dir+14+12*i]
		if tag := le.Uint16(e); tag != tagOrientation {
			entries = append(entries, e)
		}
	}
	add := le.AppendUint32(le.AppendUint16(le.AppendUint16(nil, tagOrientation), 3), 1)
	add = le.AppendUint32(add, uint32(orientation))
	out := le.AppendUint16(nil, uint16(len(entries)+1))
	for _, e := range entries {
		if add != nil && le.Uint16(e) > tagOrientation {
			out, add = append(out, add...), nil
		}
		out = append(out, e...)
	}
	out = append(out, add...)
	out = le.AppendUint32(out, 0)
	le.PutUint32(data[4:], uint32(len(data)))
	return append(data, out...)
}

func TestEXIF(t *testing.T) {
	jpg := testPicture(t, ".jpg", false)
	for _, c := range []struct {
		stated uint16
		want   float64
	}{{26, 26}, {10, 10}, {300, 300}, {9, 0}, {311, 0}, {30000, 0}, {0, 0}} {
		p, err := Decode(jpegWithEXIF(jpg, exifBlock(1, c.stated)), "x.jpg")
		if err != nil {
			t.Fatal(err)
		}
		if p.Focal35() != c.want || p.Make() != "Maker 1" || p.Model() != "Model 22" {
			t.Errorf("stated %d: focal %v make %q model %q", c.stated, p.Focal35(), p.Make(), p.Model())
		}
		p.Close()
	}
	open := exifBlock(1, 26)
	const endOfExifDirectory = 8 + 2 + 4*12 + 4 + 2 + 12
	open = append(open[:endOfExifDirectory:endOfExifDirectory], open[endOfExifDirectory+4:]...)
	open[8+2+8], open[8+2+12+8] = open[8+2+8]-4, open[8+2+12+8]-4 // the texts moved up
	p, err := Decode(jpegWithEXIF(jpg, open), "x.jpg")
	if err != nil {
		t.Fatal(err)
	}
	if p.Focal35() != 26 || p.Make() != "Maker 1" {
		t.Errorf("directory without an end: focal %v make %q", p.Focal35(), p.Make())
	}
	p.Close()
	for name, block := range map[string][]byte{
		"noise": []byte("IIIIIIIIIIIIIIIIIIIIIIII"), "cut": exifBlock(6, 26)[:40],
		"huge counts": hugeCounts(), "its own EXIF": loop(),
		"pointing outside": []byte("II*\x00\xff\xff\xff\x7f........"), "orientation 77": exifBlock(77, 26),
	} {
		p, err := Decode(jpegWithEXIF(jpg, block), "x.jpg")
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := quarters(p); got != "RGBW" {
			t.Errorf("%s: quarters %s", name, got)
		}
		p.Close()
	}
}

// hugeCounts claims texts of 4 GB.
func hugeCounts() []byte {
	b := exifBlock(1, 26)
	for entry := range 2 {
		binary.LittleEndian.PutUint32(b[8+2+12*entry+4:], 0xffffffff)
	}
	return b
}

// loop has an EXIF directory that is the first directory again.
func loop() []byte {
	b := exifBlock(1, 26)
	binary.LittleEndian.PutUint32(b[8+2+12*3+8:], 8)
	return b
}

// bad lists files that must be refused, and a word of the reason.
func bad(t testing.TB) map[string]struct {
	data []byte
	word string
} {
	jpg, pic := testPicture(t, ".jpg", false), testPicture(t, ".png", false)
	webp, tif, heic := testPicture(t, ".webp", false), testPicture(t, ".tiff", false), testPicture(t, ".heic", false)
	vast := bytes.Clone(heic)
	binary.BigEndian.PutUint32(vast[bytes.Index(vast, []byte("ispe"))+8:], 1<<30)
	emptied := bytes.Clone(heic)
	clear(emptied[bytes.Index(emptied, []byte("mdat"))+8:])
	huge := bytes.Clone(pic)
	binary.BigEndian.PutUint32(huge[16:], 100000)
	binary.BigEndian.PutUint32(huge[20:], 100000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	thumb := jpegWithEXIF(jpg, append(exifBlock(1, 26), jpg...)) // the thumbnail's end is not the picture's
	return map[string]struct {
		data []byte
		word string
	}{
		"empty":              {nil, "empty"},
		"text":               {[]byte("Dear diary, the lathe is new.\n"), "not a picture"},
		"half a jpeg":        {jpg[:len(jpg)/2+300], "incomplete"},
		"jpeg without end":   {jpg[:len(jpg)-2], "incomplete"},
		"thumbnail whole":    {thumb[:len(thumb)-40], "incomplete"},
		"jpeg header":        {jpg[:30], "incomplete"},
		"png without end":    {pic[:len(pic)-5], "incomplete"},
		"half a webp":        {webp[:len(webp)/2], "incomplete"},
		"half a tiff":        {tif[:len(tif)/2], "damaged"},
		"png of 100000":      {huge, "at most 120 megapixels"},
		"heic header":        {heic[:24], "incomplete"},
		"half a heic":        {heic[:len(heic)/2], "incomplete"},
		"heic without end":   {heic[:len(heic)-5], "incomplete"},
		"heic of 2^30":       {vast, "at most 120 megapixels"},
		"heic of nothing":    {emptied, "damaged"},
		"avif":               {[]byte("\x00\x00\x00\x18ftypavif\x00\x00\x00\x00"), "AVIF"},
		"gif":                {[]byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;"), "GIF"},
		"one byte":           {[]byte{0xff}, "not a picture"},
		"jpeg start and end": {[]byte{0xff, 0xd8, 0xff, 0xd9}, "damaged"},
	}
}

func TestDecodeRefuses(t *testing.T) {
	for name, c := range bad(t) {
		p, err := Decode(c.data, "spindle.jpg")
		if err == nil {
			p.Close()
			t.Errorf("%s: no error", name)
			continue
		}
		if s := err.Error(); !strings.Contains(s, c.word) || !strings.Contains(s, "spindle.jpg") {
			t.Errorf("%s: %q does not say %q", name, s, c.word)
		}
	}
}

// Cameras append a second picture or a maker's data after the end of the first.
func TestDataAfterTheEnd(t *testing.T) {
	jpg := testPicture(t, ".jpg", false)
	p, err := Decode(append(bytes.Clone(jpg), "trailing maker data"...), "x.jpg")
	if err != nil {
		t.Fatal(err)
	}
	p.Close()
}

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.png")
	if err := os.WriteFile(path, testPicture(t, ".png", false), 0o600); err != nil {
		t.Fatal(err)
	}
	p, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if p.Name() != "x.png" {
		t.Errorf("name %q", p.Name())
	}
	p.Close()
	p.Close()
	if p.Image() != nil || !errors.Is(p.open(), ErrClosed) {
		t.Error("a closed photo can still be used")
	}
	for _, gone := range []string{dir, filepath.Join(dir, "none.jpg")} {
		if _, err := Load(gone); err == nil {
			t.Errorf("%s: no error", gone)
		}
	}
}

func TestHighRoundsToNearest(t *testing.T) {
	for v := range 65536 {
		if got, want := high(uint16(v)), uint8(math.Round(float64(v)/257)); got != want {
			t.Fatalf("%d: %d, want %d", v, got, want)
		}
	}
}

func FuzzDecode(f *testing.F) {
	for _, c := range bad(f) {
		f.Add(c.data)
	}
	jpg := testPicture(f, ".jpg", false)
	f.Add(jpegWithEXIF(jpg, exifBlock(6, 26)))
	f.Add(pngWithEXIF(testPicture(f, ".png", true), exifBlock(8, 26)))
	f.Add(testPicture(f, ".tiff", false))
	f.Add(testPicture(f, ".webp", false))
	f.Add(testPicture(f, ".heic", false))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Decode(data, "fuzz")
		if err != nil {
			return
		}
		defer p.Close()
		if w, h := p.Size(); w < 1 || h < 1 || len(p.Image().Pix) != 4*w*h {
			t.Errorf("%d x %d", w, h)
		}
	})
}
