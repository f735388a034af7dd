package check

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
)

// The report file: JSON, mm. Of several copies the first one's report stands at the top, and every one's, the first
// included, in "copies".
type fileReport struct {
	fileCopy
	Copies []fileCopy `json:"copies,omitempty"`
}

type fileCopy struct {
	Name      string      `json:"name,omitempty"`
	Alignment string      `json:"alignment"`
	Stations  []fileRow   `json:"stations"`
	Positions []filePlace `json:"positions"`
}

// fileRow has null for what the copy does not have.
type fileRow struct {
	X         float64  `json:"x"`
	Original  float64  `json:"original"`
	Copy      *float64 `json:"copy"`
	Deviation *float64 `json:"deviation"`
	U         *float64 `json:"u"`
	Verdict   Verdict  `json:"verdict"`
}

// filePlace compares where an edge stands: x on the original, copy as aligned.
type filePlace struct {
	X         float64 `json:"x"`
	Copy      float64 `json:"copy"`
	Deviation float64 `json:"deviation"`
	U         float64 `json:"u"`
	Verdict   Verdict `json:"verdict"`
}

// WriteJSON writes the reports of one or more copies of one original.
func WriteJSON(w io.Writer, reports []Report) error {
	if len(reports) == 0 {
		return fmt.Errorf("check: there is no report to write")
	}
	f := fileReport{fileCopy: fileOf(reports[0])}
	if len(reports) > 1 {
		for _, r := range reports {
			f.Copies = append(f.Copies, fileOf(r))
		}
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	if err := enc.Encode(f); err != nil {
		return fmt.Errorf("check: write the report: %w", err)
	}
	return nil
}

func fileOf(r Report) fileCopy {
	f := fileCopy{Name: r.Copy.Name, Alignment: r.Alignment, Stations: []fileRow{}, Positions: []filePlace{}}
	for _, s := range r.Stations {
		row := fileRow{X: fine(s.X), Original: fine(s.Original), Verdict: s.Verdict}
		if !s.Absent {
			copied, deviation, u := fine(s.Copy), fine(s.Deviation), fine(s.U)
			row.Copy, row.Deviation, row.U = &copied, &deviation, &u
		}
		f.Stations = append(f.Stations, row)
	}
	for _, p := range r.Positions {
		f.Positions = append(f.Positions, filePlace{fine(p.X), fine(p.Copy), fine(p.Deviation), fine(p.U), p.Verdict})
	}
	return f
}

// fine rounds to a tenth of a micrometre, far under anything measured.
func fine(v float64) float64 { return math.Round(v*1e4) / 1e4 }
