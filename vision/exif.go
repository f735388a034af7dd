package vision

import (
	"bytes"
	"encoding/binary"
	"strings"
)

// Tags, types and the layout of directories of CIPA DC-008 (EXIF 2.32) and TIFF 6.0. The few tags that are needed are read
// here, with every offset and count checked: a damaged directory must cost neither time nor memory.
const (
	tagMake        = 0x010f
	tagModel       = 0x0110
	tagOrientation = 0x0112
	tagEXIF        = 0x8769 // where the EXIF directory is
	tagFocal35     = 0xa405

	typeASCII, typeShort, typeLong = 2, 3, 4

	entrySize = 12
)

// Equivalent focal lengths outside these, in mm, are mistakes of the writing program: 177, 311 and 30 000 were seen on phones.
const minFocal35, maxFocal35 = 10, 300

// exifInfo is what the program needs of a file's EXIF data.
type exifInfo struct {
	orientation  int     // 1 to 8
	focal35      float64 // mm; 0 = unknown
	maker, model string
}

// readEXIF reads the EXIF data of a picture file. What cannot be understood counts as absent: the picture is still good.
func readEXIF(format string, data []byte) exifInfo {
	info := exifInfo{orientation: 1}
	t, first, ok := openTIFF(tiffBlock(format, data))
	if !ok {
		return info
	}
	for _, e := range t.directory(first) {
		switch t.tag(e) {
		case tagOrientation:
			if v := t.number(e); v >= 1 && v <= 8 && format != "heif" { // the decoder turns a HEIF by its own boxes
				info.orientation = int(v)
			}
		case tagMake:
			info.maker = t.text(e)
		case tagModel:
			info.model = t.text(e)
		case tagEXIF:
			info.focal35 = t.focal35(t.number(e))
		}
	}
	return info
}

// tiffData is a TIFF structure: a file, or the block in which other files keep EXIF data.
type tiffData struct {
	data  []byte
	order binary.ByteOrder
}

// openTIFF returns the structure and the offset of its first directory.
func openTIFF(data []byte) (t tiffData, first uint32, ok bool) {
	switch {
	case len(data) < 8:
		return t, 0, false
	case bytes.HasPrefix(data, []byte("II*\x00")):
		t = tiffData{data, binary.LittleEndian}
	case bytes.HasPrefix(data, []byte("MM\x00*")):
		t = tiffData{data, binary.BigEndian}
	default:
		return t, 0, false
	}
	return t, t.order.Uint32(data[4:]), true
}

// directory returns the offsets of the entries of the directory at an offset, as far as they lie within the data.
func (t tiffData) directory(offset uint32) []int {
	at := uint64(offset)
	if at+2 > uint64(len(t.data)) {
		return nil
	}
	n := int(t.order.Uint16(t.data[at:]))
	var entries []int
	for e := int(at) + 2; n > 0 && e+entrySize <= len(t.data); e += entrySize {
		entries = append(entries, e)
		n--
	}
	return entries
}

func (t tiffData) tag(entry int) int { return int(t.order.Uint16(t.data[entry:])) }

// header is an entry's type and its number of values.
func (t tiffData) header(entry int) (kind int, count uint32) {
	return int(t.order.Uint16(t.data[entry+2:])), t.order.Uint32(t.data[entry+4:])
}

// number is the value of an entry that holds one whole number, else 0.
func (t tiffData) number(entry int) uint32 {
	switch kind, count := t.header(entry); {
	case count == 1 && kind == typeShort:
		return uint32(t.order.Uint16(t.data[entry+8:]))
	case count == 1 && kind == typeLong:
		return t.order.Uint32(t.data[entry+8:])
	}
	return 0
}

// text is the value of an entry that holds a text, else "".
func (t tiffData) text(entry int) string {
	kind, count := t.header(entry)
	if kind != typeASCII {
		return ""
	}
	from := uint64(entry + 8) // up to four bytes stand in the entry itself
	if count > 4 {
		from = uint64(t.order.Uint32(t.data[entry+8:]))
	}
	if from+uint64(count) > uint64(len(t.data)) {
		return ""
	}
	s, _, _ := strings.Cut(string(t.data[from:from+uint64(count)]), "\x00")
	return strings.ToValidUTF8(strings.TrimSpace(s), "")
}

// focal35 is the equivalent focal length in the EXIF directory at an offset, 0 if there is none that makes sense.
func (t tiffData) focal35(offset uint32) float64 {
	for _, e := range t.directory(offset) {
		if v := t.number(e); t.tag(e) == tagFocal35 && v >= minFocal35 && v <= maxFocal35 {
			return float64(v)
		}
	}
	return 0
}

// withoutOrientation is a TIFF with the orientation of its first page set to 1 (a copy if that changes anything): OpenCV's TIFF decoder
// applies part of it whatever the flags, and then we would do so again.
func withoutOrientation(data []byte) []byte {
	t, first, ok := openTIFF(data)
	if !ok {
		return data
	}
	for _, e := range t.directory(first) {
		if t.tag(e) == tagOrientation && t.number(e) > 1 {
			data = bytes.Clone(data)
			copy(data[e+8:], []byte{0, 0, 0, 0})
			if kind, _ := t.header(e); kind == typeLong {
				t.order.PutUint32(data[e+8:], 1)
			} else {
				t.order.PutUint16(data[e+8:], 1)
			}
			break
		}
	}
	return data
}
