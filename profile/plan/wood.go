package plan

import (
	"fmt"
	"math"
	"strings"
)

// Species is a wood with what it does between moisture contents.
type Species struct {
	Name               string
	Radial, Tangential float64 // shrinkage from green to oven-dry, % (Wood Handbook, FPL-GTR-190, tables 4-3 and 4-4)
	CR, CT             float64 // change of dimension for 1 % of moisture, as a share (table 13-5)
	Gravity            float64 // specific gravity at 12 % moisture (table 5-3, from memory); 0 = not known here
	// Memory says that the coefficients are given from memory, not read in the table.
	Memory bool
}

// Woods returns the woods whose movement is known, after USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190,
// tables 4-3, 4-4 and 13-5.
func Woods() []Species {
	return []Species{
		{"white oak", 5.6, 10.5, .00180, .00365, 0.68, false},
		{"black walnut", 5.5, 7.8, .00190, .00274, 0.55, false},
		{"black cherry", 3.7, 7.1, .00126, .00248, 0.50, false},
		{"sugar maple", 4.8, 9.9, .00165, .00353, 0.63, false},
		{"white ash", 4.9, 7.8, .00169, .00274, 0.60, false},
		{"American beech", 5.5, 11.9, .00190, .00431, 0.64, false},
		{"yellow birch", 7.3, 9.5, .00256, .00338, 0.62, false},
		{"yellow-poplar", 4.6, 8.2, .00158, .00289, 0.42, true},
		{"mahogany", 3.0, 4.1, .00172, .00238, 0, true},
		{"eastern white pine", 2.1, 6.1, .00071, .00212, 0.35, true},
	}
}

// Wood finds a species by its name; case, hyphens and spaces do not matter.
func Wood(name string) (Species, error) {
	plain := func(s string) string { return strings.ToLower(strings.NewReplacer("-", "", " ", "").Replace(s)) }
	var names []string
	for _, s := range Woods() {
		if plain(s.Name) == plain(name) {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return Species{}, fmt.Errorf("%w: there are no figures for %q: choose one of %s", ErrOption, name, strings.Join(names, ", "))
}

// The moisture contents between which the linear change holds, % (Wood Handbook, chapter 13, at equation 13-2).
const (
	driest  = 6.0
	wettest = 14.0
)

// Move returns the change of a dimension of d mm by ΔD = D_I C (M_F - M_I) (Wood Handbook, equation 13-2), with the
// coefficient c of its direction, between two moisture contents in %. Outside 6 to 14 % it is refused: shrinkage is not
// linear there.
func Move(c, d float64, m Moisture) (float64, error) {
	for _, v := range []float64{m.Turned, m.Use} {
		if !(v >= driest && v <= wettest) {
			return 0, fmt.Errorf("%w: the change of size is linear between %v and %v %% moisture only, not at %v %%: let the wood dry to %v %% first, or turn it over size and again when it is dry",
				ErrOption, driest, wettest, v, wettest)
		}
	}
	return d * c * (m.Use - m.Turned), nil
}

// Movement is what a change of moisture means for the work.
type Movement struct {
	Moisture
	Factor float64 // what a diameter in use is multiplied by to get the diameter to turn
	// Oval is how much larger one diameter of the largest round part is in use than the one across the rings, mm:
	// the two directions do not move alike.
	Oval float64
}

// movement sizes for the tangential direction, which moves most: a piece turned wetter ends at its size there and a
// little over it across.
func movement(s Species, m Moisture, largest float64) (Movement, error) {
	share, err := Move(s.CT, 1, m)
	if err != nil {
		return Movement{}, err
	}
	across, err := Move(s.CR, 1, m)
	if err != nil {
		return Movement{}, err
	}
	factor := 1 / (1 + share)
	return Movement{Moisture: m, Factor: factor, Oval: largest * factor * math.Abs(across-share)}, nil
}

// density is the mass of a volume with its water at 12 % moisture, kg/m³: specific gravity is oven-dry mass over volume
// at 12 %.
func (s Species) density() float64 { return s.Gravity * 1000 * 1.12 }
