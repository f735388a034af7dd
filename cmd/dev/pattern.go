package main

import (
	"encoding/json"
	"errors"
	"fmt"
)

// pattern is what the table shows of a pattern file; mm throughout. It is read as any other program would read the
// file: this command leans on nothing else of the project, so that it runs whatever state that is in.
type pattern struct {
	Length   float64   `json:"length"`
	Elements []element `json:"elements"`
}

type element struct {
	Kind   string  `json:"kind"`
	X0     float64 `json:"x0"`
	X1     float64 `json:"x1"`
	D0     float64 `json:"d0"`
	D1     float64 `json:"d1"`
	Crest  float64 `json:"crest"` // 0 where there is none, like the next two
	Bottom float64 `json:"bottom"`
	InnerD float64 `json:"innerD"` // inflection of an ogee
	U      bounds  `json:"u"`
}

// bounds are the expanded uncertainties (k = 2) of the diameters.
type bounds struct {
	D0  float64 `json:"d0"`
	D1  float64 `json:"d1"`
	Mid float64 `json:"mid"`
}

// readPattern reads a pattern file; one without elements is an error.
func readPattern(data []byte) (pattern, error) {
	var p pattern
	if err := json.Unmarshal(data, &p); err != nil {
		return pattern{}, fmt.Errorf("the pattern file is not readable: %w", err)
	}
	if len(p.Elements) == 0 {
		return pattern{}, errors.New("the pattern file holds no elements")
	}
	return p, nil
}

// mid returns the crest, bottom or inflection diameter, and false where the element has none.
func (e element) mid() (float64, bool) {
	for _, d := range []float64{e.Crest, e.Bottom, e.InnerD} {
		if d > 0 {
			return d, true
		}
	}
	return 0, false
}
