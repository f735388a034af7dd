package vision

import (
	"bytes"
	"encoding/binary"
	"strings"

	exif "github.com/dsoprea/go-exif/v3"
)

// Tags of CIPA DC-008 (EXIF 2.32).
const (
	tagMake        = 0x010f
	tagModel       = 0x0110
	tagOrientation = 0x0112
	tagFocal35     = 0xa405
)

// Equivalent focal lengths outside these, in mm, are mistakes of the writing program: 177, 311 and 30 000 were seen on phones.
const minFocal35, maxFocal35 = 10, 300

// exifInfo is what the program needs of a file's EXIF data.
type exifInfo struct {
	orientation  int     // 1 to 8
	focal35      float64 // mm; 0 = unknown
	maker, model string
}

// readEXIF reads the EXIF data of a picture file. Data that cannot be understood counts as none: the picture
// is still good.
func readEXIF(format string, data []byte) (info exifInfo) {
	none := exifInfo{orientation: 1}
	info = none
	block := tiffBlock(format, data)
	if len(block) < 8 {
		return none
	}
	defer func() {
		if recover() != nil { // the parser panics on some malformed blocks
			info = none
		}
	}()
	// What was read before an error stands: some cameras leave out the pointer that ends a directory.
	tags, _, _ := exif.GetFlatExifData(block, nil)
	for _, t := range tags {
		info.take(t)
	}
	return info
}

func (info *exifInfo) take(t exif.ExifTag) {
	switch {
	case t.IfdPath == "IFD" && t.TagId == tagOrientation:
		if v := short(t.Value); v >= 1 && v <= 8 {
			info.orientation = v
		}
	case t.IfdPath == "IFD/Exif" && t.TagId == tagFocal35:
		if v := short(t.Value); v >= minFocal35 && v <= maxFocal35 {
			info.focal35 = float64(v)
		}
	case t.IfdPath == "IFD" && t.TagId == tagMake:
		info.maker = text(t.Value)
	case t.IfdPath == "IFD" && t.TagId == tagModel:
		info.model = text(t.Value)
	}
}

func short(value any) int {
	if v, ok := value.([]uint16); ok && len(v) == 1 {
		return int(v[0])
	}
	return 0
}

func text(value any) string {
	s, _ := value.(string)
	return strings.ToValidUTF8(strings.Trim(s, " \x00\t\r\n"), "")
}

// withoutOrientation is a TIFF with the orientation of its first page set to 1 (a copy if that changes
// anything): OpenCV's TIFF decoder applies part of it whatever the flags, and then we would do so again.
func withoutOrientation(data []byte) []byte {
	var order binary.ByteOrder = binary.LittleEndian
	if bytes.HasPrefix(data, []byte("MM")) {
		order = binary.BigEndian
	}
	if len(data) < 8 {
		return data
	}
	dir := uint64(order.Uint32(data[4:]))
	if dir+2 > uint64(len(data)) {
		return data
	}
	count := uint64(order.Uint16(data[dir:]))
	for i := range count {
		at := dir + 2 + 12*i
		if at+12 > uint64(len(data)) {
			break
		}
		if order.Uint16(data[at:]) == tagOrientation {
			data = bytes.Clone(data)
			order.PutUint16(data[at+8:], 1)
			break
		}
	}
	return data
}
