package sheet

import (
	"fmt"
	"strings"
)

// Paper names a size of paper.
type Paper string

// The papers that sheets are laid out for.
const (
	A4      Paper = "a4"
	Letter  Paper = "letter"
	A3      Paper = "a3"
	Tabloid Paper = "tabloid"
	Roll    Paper = "roll" // one page as long as the piece needs
)

// Papers returns every paper in the order a choice shows them.
func Papers() []Paper { return []Paper{A4, Letter, A3, Tabloid, Roll} }

// sides returns the longer and the shorter side, mm: ISO 216 for A4 and A3; 8.5 x 11 and 11 x 17 in (ANSI/ASME Y14.1,
// sizes A and B) for letter and tabloid. A roll has none.
func (p Paper) sides() (long, short float64, err error) {
	switch p {
	case A4:
		return 297, 210, nil
	case A3:
		return 420, 297, nil
	case Letter:
		return 11 * 25.4, 8.5 * 25.4, nil
	case Tabloid:
		return 17 * 25.4, 11 * 25.4, nil
	case Roll:
		return 0, 0, nil
	}
	var names []string
	for _, q := range Papers() {
		names = append(names, string(q))
	}
	return 0, 0, fmt.Errorf("sheet: there is no paper %q: choose one of %s", string(p), strings.Join(names, ", "))
}
