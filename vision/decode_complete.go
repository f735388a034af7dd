package vision

import (
	"bytes"
	"encoding/binary"
)

// complete tells whether data has its end. OpenCV decodes a JPEG cut in half without complaint. A TIFF may
// keep its directory anywhere; what is missing there, its decoder reports.
func complete(format string, data []byte) bool {
	switch format {
	case "jpeg":
		return jpegEnds(data)
	case "png":
		return pngChunk(data, "IEND") != nil
	case "heif":
		_, whole := heifSize(data)
		return whole
	case "webp":
		return len(data) >= 12 && uint64(binary.LittleEndian.Uint32(data[4:]))+8 <= uint64(len(data))
	}
	return true
}

// jpegSegments calls visit with the marker and the contents of each segment of a JPEG up to its end of image (0xD9) or
// until visit returns false. Searching for the end marker alone would find that of an embedded thumbnail.
func jpegSegments(data []byte, visit func(marker byte, body []byte) bool) {
	for i := 2; i+1 < len(data); {
		if data[i] != 0xff {
			i++ // coded data after a scan header, or padding
			continue
		}
		marker := data[i+1]
		switch {
		case marker == 0xff: // a fill byte
			i++
			continue
		case marker == 0 || marker == 1 || marker >= 0xd0 && marker <= 0xd8: // stuffed or without a length
			i += 2
			continue
		case marker == 0xd9:
			visit(marker, nil)
			return
		}
		if i+4 > len(data) {
			return
		}
		n := int(binary.BigEndian.Uint16(data[i+2:]))
		if n < 2 || i+2+n > len(data) || !visit(marker, data[i+4:i+2+n]) {
			return
		}
		i += 2 + n
	}
}

func jpegEnds(data []byte) (ends bool) {
	jpegSegments(data, func(marker byte, _ []byte) bool {
		ends = marker == 0xd9
		return true
	})
	return ends
}

// pngChunk returns the contents of the first chunk of a kind, nil if it or its end is missing.
func pngChunk(data []byte, kind string) []byte {
	const header, tail = 8, 4 // length and kind; checksum
	for i := 8; i+header+tail <= len(data); {
		n := uint64(binary.BigEndian.Uint32(data[i:]))
		if n > uint64(len(data)-i-header-tail) {
			return nil
		}
		body := data[i+header : i+header+int(n)]
		if string(data[i+4:i+8]) == kind {
			return body[:len(body):len(body)]
		}
		i += header + int(n) + tail
	}
	return nil
}

// webpChunk returns the contents of the first chunk of a kind, nil if it is missing.
func webpChunk(data []byte, kind string) []byte {
	for i := 12; i+8 <= len(data); {
		n := uint64(binary.LittleEndian.Uint32(data[i+4:]))
		if n > uint64(len(data)-i-8) {
			return nil
		}
		if string(data[i:i+4]) == kind {
			return data[i+8 : i+8+int(n)]
		}
		i += 8 + int(n) + int(n&1)
	}
	return nil
}

// tiffBlock returns the TIFF-structured EXIF block of a picture file, nil if it has none.
func tiffBlock(format string, data []byte) (block []byte) {
	prefix := []byte("Exif\x00\x00")
	switch format {
	case "jpeg":
		jpegSegments(data, func(marker byte, body []byte) bool {
			if marker == 0xe1 && bytes.HasPrefix(body, prefix) {
				block = body[len(prefix):]
			}
			return block == nil && marker != 0xda
		})
	case "png":
		block = pngChunk(data, "eXIf")
	case "webp":
		block = bytes.TrimPrefix(webpChunk(data, "EXIF"), prefix)
	case "tiff":
		block = data
	case "heif":
		h, _ := openHEIF(data)
		block = h.exif
	}
	return block
}
