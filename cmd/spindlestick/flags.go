package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// The flags' values, each read by UnmarshalText from the form the help shows.

// axisFlag is X1,Y1,X2,Y2 in pixels of the upright picture.
type axisFlag [2]r2.Vec

func (a *axisFlag) UnmarshalText(text []byte) error {
	p, err := twoPoints(string(text))
	if err != nil {
		return err
	}
	if r2.Norm(r2.Sub(p[1], p[0])) < 1 {
		return errors.New("the two ends are the same point")
	}
	*a = p
	return nil
}

// ruleFlag is X1,Y1,X2,Y2=LENGTH.
type ruleFlag view.RuleMarks

func (r *ruleFlag) UnmarshalText(text []byte) error {
	points, length, ok := strings.Cut(string(text), "=")
	if !ok {
		return errors.New("write it like 120,840,2310,852=300mm")
	}
	p, err := twoPoints(points)
	if err != nil {
		return err
	}
	mm, err := positive(length)
	if err != nil {
		return err
	}
	*r = ruleFlag{P: p[0], Q: p[1], Length: mm}
	return nil
}

// knownFlag is STATION=DIAMETER.
type knownFlag view.KnownDiameter

func (k *knownFlag) UnmarshalText(text []byte) error {
	at, size, ok := strings.Cut(string(text), "=")
	if !ok {
		return errors.New("write it like 123.4=24.6mm")
	}
	x, err := profile.ParseLength(at, profile.MM)
	if err != nil {
		return err
	}
	d, err := positive(size)
	if err != nil {
		return err
	}
	*k = knownFlag{X: x, D: d}
	return nil
}

// lengthFlag is a length in any unit; without one it is mm.
type lengthFlag float64

func (l *lengthFlag) UnmarshalText(text []byte) error {
	mm, err := positive(string(text))
	*l = lengthFlag(mm)
	return err
}

// heightFlag is raised, level, lies or a length.
type heightFlag view.Height

func (h *heightFlag) UnmarshalText(text []byte) error {
	switch m := view.HeightMode(text); m {
	case view.Raised, view.Level, view.Lies:
		*h = heightFlag{Mode: m}
		return nil
	}
	mm, err := profile.ParseLength(string(text), profile.MM)
	if err != nil {
		return fmt.Errorf("%q is not raised, level, lies or a length", text)
	}
	*h = heightFlag{Mode: view.Fixed, Value: mm}
	return nil
}

func positive(text string) (float64, error) {
	mm, err := profile.ParseLength(text, profile.MM)
	if err != nil {
		return 0, err
	}
	if mm <= 0 {
		return 0, fmt.Errorf("%q is not above zero", text)
	}
	return mm, nil
}

func twoPoints(text string) ([2]r2.Vec, error) {
	fields := strings.Split(text, ",")
	if len(fields) != 4 {
		return [2]r2.Vec{}, fmt.Errorf("%q is not two points X1,Y1,X2,Y2", text)
	}
	var v [4]float64
	for i, f := range fields {
		n, err := strconv.ParseFloat(strings.TrimSpace(f), 64)
		if err != nil || math.IsNaN(n) || math.Abs(n) > 1e6 {
			return [2]r2.Vec{}, fmt.Errorf("%q is not a pixel position", f)
		}
		v[i] = n
	}
	return [2]r2.Vec{{X: v[0], Y: v[1]}, {X: v[2], Y: v[3]}}, nil
}
