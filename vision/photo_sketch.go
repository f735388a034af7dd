package vision

import (
	"sync"
)

// The longer side (px) from which a JPEG is sketched by 4 and by 8: the sketch then still has what boards and piece
// are looked for in.
const (
	sketchFrom  = 5000
	sketchTwice = 11000
)

// begin is Decode for those who can do something with a sketch while the rest is still being decoded: it returns as soon
// as the sketch of a large JPEG is there.
func begin(data []byte, name string) (*Photo, error) {
	f, err := newFile(data, name)
	if err != nil {
		return nil, err
	}
	by := f.sketchBy()
	if by == 0 {
		return Decode(data, name)
	}
	p := f.photo()
	var rest sync.WaitGroup
	rest.Go(func() { err = p.fill(f) })
	p.whole = sync.OnceValue(func() error {
		rest.Wait()
		return err
	})
	if m, err := f.decode(by); err == nil { // else the rest says what is wrong
		p.sketch, p.sketchBy = m, by
	}
	return p, nil
}

// sketchBy is by how much the sketch of a file is smaller; 0 if it has none.
func (f *file) sketchBy() int {
	side := max(f.size.X, f.size.Y)
	by := 4
	if side >= sketchTwice {
		by = 8
	}
	whole := f.size.X%by == 0 && f.size.Y%by == 0
	if f.format != "jpeg" || side < sketchFrom || !whole && f.info.orientation != 1 {
		return 0 // what is over at the right and the bottom would shift the sketch when it is turned
	}
	return by
}

// sketched reports whether there is a sketch while the rest may still be missing.
func (p *Photo) sketched() bool { return !p.closed() && p.sketchBy > 0 }
