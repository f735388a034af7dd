package sheet

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"

	"spindlestick/profile"
)

// ListFormat is what the first field of a JSON file of stations says.
const ListFormat = "spindlestick-stations"

// StationList is the stations in figures, under the numbers that the sheets give them. All lengths are mm, to a micrometre.
type StationList struct {
	Format    string          `json:"format"`
	Version   int             `json:"version"`
	Title     string          `json:"title,omitempty"`
	Date      string          `json:"date,omitempty"`
	Length    float64         `json:"length"`
	Hook      float64         `json:"hook,omitempty"`      // of the blank before station 1
	Allowance float64         `json:"allowance,omitempty"` // of sizing diameters over finished ones; 0 = none are given
	Stations  []ListedStation `json:"stations"`
}

// ListedStation is a station in figures.
type ListedStation struct {
	Number int           `json:"number"`
	Role   profile.Role  `json:"role"`
	Kind   profile.Kind  `json:"kind,omitempty"` // of the element that starts here or that the crest belongs to; empty at the far end
	X      float64       `json:"x"`              // from station 1
	UX     float64       `json:"ux,omitempty"`   // expanded uncertainty of X (k = 2); 0 = not known
	Before *Size         `json:"before,omitempty"`
	After  *Size         `json:"after,omitempty"`
	UD     float64       `json:"ud,omitempty"`     // expanded uncertainty of the sizes
	Sizing float64       `json:"sizing,omitempty"` // diameter to size to; 0 = nothing is sized here
	Group  string        `json:"group,omitempty"`  // stations with the same letter share a setting of the calipers
	State  profile.State `json:"state"`
}

// Size is what is measured on one side of a station.
type Size struct {
	MM    float64 `json:"mm"`
	Shape string  `json:"shape"` // round: a diameter; square: a side
}

func listOf(p profile.Pattern, o Options) StationList {
	r := StationList{Format: ListFormat, Version: 1, Title: printable(o.Title), Date: printable(o.Date), Length: micro(p.Length), Hook: micro(o.Hook)}
	if o.Allowance > 0 {
		r.Allowance = micro(o.Allowance)
	}
	stations := Numbered(p)
	set := settings(p, stations, o)
	for i, st := range stations {
		before, after := sides(p, st)
		s := ListedStation{
			Number: i + 1, Role: st.Role, Kind: kindAt(p, st.Element), X: micro(st.X), UX: micro(st.UX),
			Before: before.listed(), After: after.listed(), UD: micro(st.UD), Group: set[i].group, State: st.State,
		}
		if set[i].size > 0 && o.Allowance >= 0 {
			s.Sizing = micro(set[i].size)
		}
		r.Stations = append(r.Stations, s)
	}
	return r
}

func (a aspect) listed() *Size {
	if !a.there {
		return nil
	}
	shape := "round"
	if a.flat {
		shape = "square"
	}
	return &Size{micro(a.size), shape}
}

// micro rounds to a micrometre: what lies below is no measurement.
func micro(mm float64) float64 { return math.Round(mm*1000) / 1000 }

func renderJSON(r StationList, w io.Writer) error {
	b, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return fmt.Errorf("sheet: make the JSON: %w", err)
	}
	if _, err := w.Write(append(b, '\n')); err != nil {
		return fmt.Errorf("sheet: write the JSON: %w", err)
	}
	return nil
}

// csvHead names the columns of a CSV file of stations.
func csvHead() []string {
	return []string{"number", "role", "kind", "x_mm", "ux_mm", "before_mm", "before_shape", "after_mm", "after_shape", "ud_mm", "sizing_mm", "group", "state"}
}

// renderCSV writes the stations in lines that end in a line feed, under a head; what is not known or not there is empty.
func renderCSV(r StationList, w io.Writer) error {
	c := csv.NewWriter(w)
	rows := [][]string{csvHead()}
	for _, s := range r.Stations {
		before, beforeShape := s.Before.cells()
		after, afterShape := s.After.cells()
		rows = append(rows, []string{
			strconv.Itoa(s.Number), string(s.Role), string(s.Kind), cell(s.X), known(s.UX), before, beforeShape, after, afterShape,
			known(s.UD), known(s.Sizing), s.Group, string(s.State),
		})
	}
	if err := c.WriteAll(rows); err != nil {
		return fmt.Errorf("sheet: write the CSV: %w", err)
	}
	return nil
}

func (s *Size) cells() (mm, shape string) {
	if s == nil {
		return "", ""
	}
	return cell(s.MM), s.Shape
}

func cell(mm float64) string { return strconv.FormatFloat(mm, 'f', 3, 64) }

// known writes a figure that is left empty where it is 0.
func known(mm float64) string {
	if mm == 0 {
		return ""
	}
	return cell(mm)
}
