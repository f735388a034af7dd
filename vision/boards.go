package vision

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gocv.io/x/gocv"
	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
	"spindlestick/vision/internal/guard"
)

// The boards: rows of squares, and columns from the largest board to the smallest.
const (
	boardRows         = 5
	boardColsMax      = 25
	boardColsMin      = 22
	defaultSquare     = 10.0 // mm
	boardSearchSide   = 1700 // px: the longer side of the picture that is searched first
	boardSearchFine   = 3400 // px: and of the one searched if no board, or only one with small squares, was found
	boardSearchStep   = 9.0  // px of the searched picture: with squares larger than this, no other board of the plane is too small
	boardOverlap      = 1.5  // squares: two finds nearer than this are the same board
	boardMisfit       = 0.15 // squares: the most a grid may deviate from a plane's picture; strong lens distortion makes 0.05
	boardLeastRows    = 2    // rows and columns of corners from which the rest is looked for
	boardLeastCols    = 12
	boardSideLimit    = 0.75 // the part of the squares along each side that must border on white
	boardPatternLimit = 0.9  // the part of neighbouring squares that must be black and white in turn
	boardMissingLimit = 0.1  // the part of the corners that may be hidden
)

// FindBoards finds the printed scale boards in a photo, largest first; none is not an error. square is the measured side of a
// square in mm, 0 meaning 10. Corners[0][0] lies beside the black top-left square. A board with an odd number of columns looks the
// same turned by 180 degrees: it is read with its columns running to the right, or down if it stands upright.
func FindBoards(ctx context.Context, p *Photo, square float64) ([]view.Board, error) {
	if err := p.open(); err != nil {
		return nil, err
	}
	if square <= 0 {
		square = defaultSquare
	}
	var boards []view.Board
	for _, side := range [...]int{boardSearchSide, boardSearchFine} {
		sheets, k, err := findSheets(ctx, p, side, 1)
		if err == nil {
			boards, err = refineSheets(ctx, p, sheets, square, boards)
		}
		if err != nil {
			return nil, fmt.Errorf("looking for scale boards: %w", err)
		}
		if largeEnough(boards, k) {
			break
		}
	}
	return boards, nil
}

// findSheets looks for boards in the photo reduced by k, at least least, to about side px. Some may be found twice.
func findSheets(ctx context.Context, p *Photo, side, least int) (sheets []*sheet, k int, err error) {
	if err := ctx.Err(); err != nil {
		return nil, 0, err
	}
	m, k, err := p.reduced(side, least)
	if err != nil {
		return nil, 0, err
	}
	defer m.Close()
	g, err := smoothed(&m)
	if err != nil {
		return nil, 0, err
	}
	corners := findCorners(g)
	if err := ctx.Err(); err != nil {
		return nil, 0, err
	}
	for _, grid := range findGrids(corners) {
		if s, ok := readSheet(g, grid.table()); ok {
			s.grow(k)
			sheets = append(sheets, s)
		}
	}
	return sheets, k, nil
}

// refineSheets adds to the known boards those that the photo at full size bears out, and returns all, largest first.
func refineSheets(ctx context.Context, p *Photo, sheets []*sheet, square float64, boards []view.Board) ([]view.Board, error) {
	for _, s := range sheets {
		if s.among(boards) {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		sigma, ok, err := s.refine(p)
		if err != nil {
			return nil, err
		}
		if ok {
			boards = append(boards, s.board(square, sigma))
		}
	}
	slices.SortStableFunc(boards, func(a, b view.Board) int { return cmp.Compare(b.Cols, a.Cols) })
	return boards, nil
}

// board is the sheet as a board.
func (s *sheet) board(square, sigma float64) view.Board {
	return view.Board{Rows: boardRows, Cols: s.cols() + 1, Square: square, Corners: s.corners, Sigma: sigma}
}

// largeEnough tells whether there are boards whose squares are so large that none of the same plane was too small to be
// found in the picture reduced by k.
func largeEnough(boards []view.Board, k int) bool {
	return len(boards) > 0 && leastStep(boards) > boardSearchStep*float64(k)
}

// leastStep is the shortest side of a square of the boards, px.
func leastStep(boards []view.Board) float64 {
	least := math.Inf(1)
	for _, b := range boards {
		least = math.Min(least, (&sheet{corners: b.Corners}).step())
	}
	return least
}

// smoothed is m, which it changes, in grey and smoothed by cornerBlur.
func smoothed(m *gocv.Mat) (gray, error) {
	if err := guard.ConvertColor(m, m, gocv.ColorBGRToGray); err != nil {
		return gray{}, err
	}
	if err := guard.ConvertDepth(m, m, gocv.MatTypeCV32F, 1); err != nil {
		return gray{}, err
	}
	if err := guard.Blur(m, m, cornerBlur); err != nil {
		return gray{}, err
	}
	pix, err := m.DataPtrFloat32()
	if err != nil {
		return gray{}, err
	}
	return gray{w: m.Cols(), h: m.Rows(), pix: pix}, nil
}

// among tells whether the sheet is one of the boards.
func (s *sheet) among(boards []view.Board) bool {
	middle, _ := spread(s.all())
	for _, b := range boards {
		other, _ := spread(slices.Concat(b.Corners...))
		if r2.Norm(r2.Sub(middle, other)) < boardOverlap*s.step() {
			return true
		}
	}
	return false
}
