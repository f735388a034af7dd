package vision

import (
	"encoding/binary"
	"image"
)

// heif is what is needed of the boxes of a HEIF file (ISO/IEC 14496-12 and 23008-12) before its pictures are decoded. Every length
// is checked against the box around it: a damaged file must cost neither time nor memory.
type heif struct {
	largest image.Point // of the sizes stated for its pictures
	whole   bool        // every item lies within the file
	exif    []byte      // the TIFF structure of its EXIF data; nil if it has none
}

// openHEIF reads the boxes; false if they state no picture.
func openHEIF(data []byte) (h heif, ok bool) {
	meta := full(box(data, "meta"))
	h.largest = largestOf(box(box(meta, "iprp"), "ipco"))
	if h.largest == (image.Point{}) {
		return h, false
	}
	kinds := itemKinds(box(meta, "iinf"))
	h.whole = true
	for _, at := range itemPlaces(box(meta, "iloc")) {
		if at.offset > uint64(len(data)) || at.length > uint64(len(data))-at.offset {
			h.whole = false
			continue
		}
		if kinds[at.item] == "Exif" && h.exif == nil {
			h.exif = exifItem(data[at.offset : at.offset+at.length])
		}
	}
	return h, true
}

// boxes calls visit with the kind and the contents of each box of data until one does not fit or visit returns false.
func boxes(data []byte, visit func(kind string, body []byte) bool) {
	for len(data) >= 8 {
		n, head := uint64(binary.BigEndian.Uint32(data)), uint64(8)
		switch {
		case n == 0: // up to the end
			n = uint64(len(data))
		case n == 1 && len(data) >= 16:
			n, head = binary.BigEndian.Uint64(data[8:]), 16
		}
		if n < head || n > uint64(len(data)) || !visit(string(data[4:8]), data[head:n]) {
			return
		}
		data = data[n:]
	}
}

// box is the contents of the first box of a kind, nil if there is none.
func box(data []byte, kind string) (found []byte) {
	boxes(data, func(k string, body []byte) bool {
		if k == kind {
			found = body
		}
		return found == nil
	})
	return found
}

// full is the contents of a box behind its version and flags.
func full(body []byte) []byte { return body[min(4, len(body)):] }

// largestOf is the size of the most pixels in a box of properties.
func largestOf(properties []byte) (most image.Point) {
	boxes(properties, func(kind string, body []byte) bool {
		if kind == "ispe" && len(body) >= 12 {
			w, h := binary.BigEndian.Uint32(body[4:]), binary.BigEndian.Uint32(body[8:])
			if uint64(w)*uint64(h) > uint64(most.X)*uint64(most.Y) {
				most = image.Pt(int(w), int(h))
			}
		}
		return true
	})
	return most
}

// itemKinds are the kinds of the items by their numbers.
func itemKinds(iinf []byte) map[uint32]string {
	kinds := map[uint32]string{}
	skip := 6 // version, flags and a count of two bytes
	if len(iinf) > 0 && iinf[0] > 0 {
		skip = 8
	}
	if len(iinf) < skip {
		return kinds
	}
	boxes(iinf[skip:], func(kind string, body []byte) bool {
		r := reader{data: body}
		version := r.number(1)
		r.number(3)
		item := r.number(2)
		if version == 3 {
			item = item<<16 | r.number(2)
		}
		r.number(2)
		if name := r.bytes(4); kind == "infe" && version >= 2 && !r.short {
			kinds[uint32(item)] = string(name)
		}
		return true
	})
	return kinds
}

// itemPlace is where a part of an item lies in the file.
type itemPlace struct {
	item           uint32
	offset, length uint64
}

// mostParts is more than any photo has: a large one is a grid of some hundred.
const mostParts = 1 << 16

// itemPlaces are the parts of all items that lie in the file itself.
func itemPlaces(iloc []byte) (out []itemPlace) {
	r := reader{data: iloc}
	version := r.number(1)
	r.number(3)
	sizes := r.number(2)
	offsetSize, lengthSize, baseSize, indexSize := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	wide := 2
	if version == 2 {
		wide = 4
	}
	if offsetSize+lengthSize == 0 {
		return nil // places of no bytes would cost nothing to state by the million
	}
	for n := r.number(wide); n > 0 && !r.short && len(out) < mostParts; n-- {
		item, method := r.number(wide), uint64(0)
		if version > 0 {
			method = r.number(2) & 15
		}
		r.number(2)
		base := r.number(baseSize)
		for parts := r.number(2); parts > 0 && !r.short; parts-- {
			if version > 0 {
				r.number(indexSize)
			}
			offset, length := base+r.number(offsetSize), r.number(lengthSize)
			if method == 0 && !r.short {
				out = append(out, itemPlace{uint32(item), offset, length})
			}
		}
	}
	return out
}

// exifItem is the TIFF structure in an item: behind the number of bytes to pass over, four bytes.
func exifItem(item []byte) []byte {
	r := reader{data: item}
	skip := r.number(4)
	if r.short || skip > uint64(len(r.data)) {
		return nil
	}
	return r.data[skip:]
}

// reader reads numbers from the front of data.
type reader struct {
	data  []byte
	short bool // more was asked for than there is
}

func (r *reader) bytes(n int) []byte {
	if n > len(r.data) {
		r.short, r.data = true, nil
		return nil
	}
	out := r.data[:n]
	r.data = r.data[n:]
	return out
}

// number is a number of n bytes, the high one first; 0 if they are not there.
func (r *reader) number(n int) (v uint64) {
	for _, b := range r.bytes(n) {
		v = v<<8 | uint64(b)
	}
	return v
}
