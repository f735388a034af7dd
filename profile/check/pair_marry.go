package check

import "math"

// mostExact is up to how many copies every pairing is looked at: 2^16 subsets take some hundredths of a second.
const mostExact = 16

// lonely is what a copy without a partner costs, mm: more than any difference, so that as few as can be stay alone.
const lonely = 1e6

// marry pairs indices at the least sum of costs, infinite where two cannot be paired; -1 = alone. exact says that the sum
// is the least there is.
func marry(cost [][]float64) (partner []int, exact bool) {
	if len(cost) <= mostExact {
		return marryExactly(cost), true
	}
	return exchange(cost, marryGreedily(cost)), false
}

// marryExactly goes through all subsets: of one, its first member is left alone or paired with each of the others.
func marryExactly(cost [][]float64) []int {
	n := len(cost)
	least := make([]float64, 1<<n)
	chosen := make([]int8, 1<<n)
	for set := 1; set < 1<<n; set++ {
		a := 0
		for set>>a&1 == 0 {
			a++
		}
		rest := set &^ (1 << a)
		least[set], chosen[set] = lonely+least[rest], int8(a)
		for b := a + 1; b < n; b++ {
			if rest>>b&1 == 0 {
				continue
			}
			if c := cost[a][b] + least[rest&^(1<<b)]; c < least[set] {
				least[set], chosen[set] = c, int8(b)
			}
		}
	}
	partner := alone(n)
	for set := 1<<n - 1; set > 0; {
		a := 0
		for set>>a&1 == 0 {
			a++
		}
		b := int(chosen[set])
		if b != a {
			partner[a], partner[b] = b, a
		}
		set &^= 1<<a | 1<<b
	}
	return partner
}

func alone(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = -1
	}
	return out
}

// marryGreedily takes the cheapest pair of those that are left, again and again.
func marryGreedily(cost [][]float64) []int {
	partner := alone(len(cost))
	for {
		a, b, least := -1, -1, math.Inf(1)
		for i := range cost {
			for j := i + 1; j < len(cost); j++ {
				if partner[i] < 0 && partner[j] < 0 && cost[i][j] < least {
					a, b, least = i, j, cost[i][j]
				}
			}
		}
		if a < 0 {
			return partner
		}
		partner[a], partner[b] = b, a
	}
}

// exchange swaps partners between pairs, and with those alone, as long as the sum becomes less.
func exchange(cost [][]float64, partner []int) []int {
	price := func(a, b int) float64 {
		if b < 0 {
			return lonely
		}
		return cost[a][b]
	}
	join := func(a, b int) {
		if a >= 0 {
			partner[a] = b
		}
		if b >= 0 {
			partner[b] = a
		}
	}
	for better := true; better; {
		better = false
		for a := range partner {
			for c := range partner {
				b, d := partner[a], partner[c]
				if a == c || b == c || b < 0 {
					continue
				}
				// a-b and c-d become a-c and b-d.
				now, then := price(a, b)+price(c, d), price(a, c)+price(b, d)
				if then < now-1e-9 {
					join(a, c)
					join(b, d)
					better = true
				}
			}
		}
	}
	return partner
}
