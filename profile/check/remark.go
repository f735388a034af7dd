package check

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"spindlestick/profile"
)

// Finding names how a piece differs from the others of its design.
type Finding string

// The findings.
const (
	Worn    Finding = "worn"    // smaller at a crest or rim, where hands and feet rub
	Smaller Finding = "smaller" // smaller elsewhere: a chip, a deep cut or another hand
	Larger  Finding = "larger"
	Scaled  Finding = "all over" // all diameters by one share: dried oval, or read across another face
	Longer  Finding = "longer"
	Shorter Finding = "shorter"
)

// Remark is one finding.
type Remark struct {
	Piece   int
	X       float64 // station of the likely pattern, mm; 0 of Scaled
	Finding Finding
	Amount  float64 // mm; of Scaled a share
	Words   string
}

// scaledShare is the least share by which a piece counts as larger or smaller all over: old turnings dry oval by half a
// percent and more (common experience, no source).
const scaledShare = 0.004

// remarks names what the outliers of a spread are, piece by piece.
func remarks(s Spread, pieces int) []Remark {
	var out []Remark
	for k := range pieces {
		share, whole := allOver(s.Diameters, k)
		if whole {
			out = append(out, Remark{k, 0, Scaled, share, fmt.Sprintf("all its diameters are %+.1f %%: dried oval, or seen across another face", 100*share)})
		}
		for _, a := range s.Diameters {
			if w, ok := a.word(k); ok && w.Outlier && !(whole && math.Abs(w.Value/(1+share)-a.Value) < outlierScales*math.Max(a.Scatter, math.Max(w.U, leastU)/2)) {
				out = append(out, diameterRemark(k, a, w))
			}
		}
		for _, a := range s.Lengths {
			if w, ok := a.word(k); ok && w.Outlier {
				out = append(out, lengthRemark(k, a, w))
			}
		}
	}
	return out
}

func (a Agreement) word(piece int) (Word, bool) {
	for _, w := range a.Words {
		if w.Piece == piece {
			return w, true
		}
	}
	return Word{}, false
}

// allOver is the median share by which a piece's diameters leave the means, and whether it is more than scaledShare with
// three quarters of the stations on the same side.
func allOver(d []Agreement, piece int) (share float64, whole bool) {
	var shares []float64
	for _, a := range d {
		if w, ok := a.word(piece); ok && a.Value > 0 {
			shares = append(shares, w.Value/a.Value-1)
		}
	}
	if len(shares) < 4 {
		return 0, false
	}
	share = median(shares)
	same := 0
	for _, s := range shares {
		if s*share > 0 && math.Abs(s) > scaledShare/2 {
			same++
		}
	}
	return share, math.Abs(share) > scaledShare && 4*same >= 3*len(shares)
}

func diameterRemark(piece int, a Agreement, w Word) Remark {
	by := w.Value - a.Value
	r := Remark{Piece: piece, X: a.X, Amount: by, Finding: Smaller}
	switch {
	case by > 0:
		r.Finding = Larger
	case strings.Contains(a.What, string(profile.Crest)):
		r.Finding = Worn
	}
	r.Words = fmt.Sprintf("%s at %.1f mm (%s): %+.2f mm", r.Finding, a.X, a.What, by)
	return r
}

func lengthRemark(piece int, a Agreement, w Word) Remark {
	by := w.Value - a.Value
	r := Remark{Piece: piece, X: a.X, Amount: by, Finding: Longer}
	if by < 0 {
		r.Finding = Shorter
	}
	r.Words = fmt.Sprintf("%s from %.1f mm (%s): %+.2f mm", r.Finding, a.X, a.What, by)
	return r
}

// ByPiece returns the remarks about one piece, along the piece.
func (s Spread) ByPiece(piece int) []Remark {
	var out []Remark
	for _, r := range s.Remarks {
		if r.Piece == piece {
			out = append(out, r)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].X < out[j].X })
	return out
}
