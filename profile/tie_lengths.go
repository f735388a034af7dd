package profile

import "gonum.org/v1/gonum/mat"

// lengthClasses numbers the elements by length: those that ties hold equal share a number.
func (p Pattern) lengthClasses() (class []int, count int) {
	class = make([]int, len(p.Elements))
	for i := range class {
		class[i] = -1
	}
	for i := range class {
		if class[i] >= 0 {
			continue
		}
		for _, t := range p.twins(i) {
			class[t.index] = count
		}
		count++
	}
	return class, count
}

// equalLengths returns the stations that lie closest to those of the pattern, in least squares, among all that keep the
// overall length and give tied elements one length.
func (p Pattern) equalLengths() ([]float64, bool) {
	class, m := p.lengthClasses()
	n := len(class)
	was := p.stationsOf()
	// Unknown: one length a class, and the multiplier of the overall length. Station k+1 is count[k] times the lengths.
	count := mat.NewDense(n, m, nil)
	for k := range n {
		for c := range m {
			if k > 0 {
				count.Set(k, c, count.At(k-1, c))
			}
		}
		count.Set(k, class[k], count.At(k, class[k])+1)
	}
	var normal mat.Dense
	normal.Mul(count.T(), count)
	system, right := mat.NewDense(m+1, m+1, nil), mat.NewVecDense(m+1, nil)
	for c := range m {
		for d := range m {
			system.Set(c, d, normal.At(c, d))
		}
		system.Set(c, m, count.At(n-1, c))
		system.Set(m, c, count.At(n-1, c))
		right.SetVec(c, mat.Dot(count.ColView(c), mat.NewVecDense(n, was[1:])))
	}
	right.SetVec(m, p.Length)
	var x mat.VecDense
	if err := x.SolveVec(system, right); err != nil {
		return nil, false
	}
	at := make([]float64, n+1)
	for k := range n {
		at[k+1] = at[k] + x.AtVec(class[k])
	}
	at[n] = p.Length
	return at, true
}
