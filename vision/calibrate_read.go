package vision

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
	"spindlestick/vision/internal/guard"
)

// Orientation is how the photo was turned to stand upright.
func (p *Photo) Orientation() view.Orientation { return view.Orientation(p.info.orientation) }

// boardShot is a photograph of one board: which camera took it, and the board's corners in the picture as delivered.
type boardShot struct {
	name          string
	maker, model  string
	width, height int // as delivered, px
	focal35       float64
	cols          int
	seen          guard.View
}

// readShots reads the photographs one after the other. All that is wrong with them is told at once.
func readShots(ctx context.Context, paths []string, progress func(stage string, done float64)) ([]boardShot, error) {
	var shots []boardShot
	var faults []string
	for i, path := range paths {
		progress("Looking for the board in "+filepath.Base(path), float64(i)/float64(len(paths)))
		s, err := readShot(ctx, path)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			faults = append(faults, err.Error())
			continue
		}
		shots = append(shots, s)
	}
	if len(faults) > 0 {
		return nil, fmt.Errorf("%w: %s", ErrCalibrate, strings.Join(faults, "; "))
	}
	return shots, nil
}

func readShot(ctx context.Context, path string) (boardShot, error) {
	p, err := Load(path)
	if err != nil {
		return boardShot{}, err
	}
	defer p.Close()
	boards, err := FindBoards(ctx, p, 0)
	if err != nil {
		return boardShot{}, fmt.Errorf("%s: %w", p.Name(), err)
	}
	if len(boards) != 1 {
		return boardShot{}, fmt.Errorf("%s shows %d boards, not one: all its corners must be seen, sharp and unshaded, and no other board, or leave the photograph out", p.Name(), len(boards))
	}
	return p.shotOf(boards[0]), nil
}

// shotOf takes the board's corners to the picture as the sensor delivered it, where the lens is the same however the camera was
// held.
func (p *Photo) shotOf(b view.Board) boardShot {
	w, h := p.Size()
	o := p.Orientation()
	s := boardShot{name: p.Name(), maker: p.Make(), model: p.Model(), focal35: p.Focal35(), cols: b.Cols}
	s.width, s.height = o.Size(w, h)
	for i, row := range b.Corners {
		for j, q := range row {
			s.seen.At = append(s.seen.At, r2.Vec{X: float64(j) * b.Square, Y: float64(i) * b.Square})
			s.seen.Seen = append(s.seen.Seen, o.Delivered(q, w, h))
		}
	}
	return s
}

// oneCamera refuses photographs of several cameras, sizes, lenses or boards.
func oneCamera(shots []boardShot) error {
	a := shots[0]
	if a.model == "" {
		return fmt.Errorf("%s does not say which camera took it: use the files as they come from the camera", a.name)
	}
	for _, b := range shots[1:] {
		switch {
		case a.maker != b.maker || a.model != b.model:
			return fmt.Errorf("%s was taken by %s %s, %s by %s %s: measure one camera at a time", a.name, a.maker, a.model, b.name, b.maker, b.model)
		case a.width != b.width || a.height != b.height:
			return fmt.Errorf("%s has %d x %d pixels, %s %d x %d: take all with one setting and leave them as they come from the camera", a.name, a.width, a.height, b.name, b.width, b.height)
		case a.focal35 != b.focal35:
			return fmt.Errorf("%s was taken at a focal length of %g mm, %s at %g mm: use one lens and do not zoom", a.name, a.focal35, b.name, b.focal35)
		case a.cols != b.cols:
			return fmt.Errorf("%s shows a board of %d columns, %s one of %d: use one board for all", a.name, a.cols, b.name, b.cols)
		}
	}
	return nil
}
