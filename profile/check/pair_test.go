package check

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func reportsOf(t testing.TB, pieces ...Piece) []Report {
	t.Helper()
	r, err := Set{Copies: pieces}.Reports(original())
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestLikeStandsByLike: two thick ones, two thin ones and two right ones find each other, whatever their order.
func TestLikeStandsByLike(t *testing.T) {
	off := map[string]float64{"a": 0.4, "b": -0.4, "c": 0.02, "d": 0.38, "e": -0.41, "f": 0}
	var pieces []Piece
	for _, n := range []string{"a", "b", "c", "d", "e", "f"} {
		pieces = append(pieces, exact(t, n, off[n]))
	}
	p := SideBySide(reportsOf(t, pieces...))
	var got []string
	for _, q := range p.Pairs {
		got = append(got, pieces[q.A].Name+pieces[q.B].Name)
	}
	slices.Sort(got)
	if strings.Join(got, " ") != "ad be cf" || len(p.Alone) > 0 || !p.Exact {
		t.Errorf("%v, alone %v", got, p.Alone)
	}
	if q := p.Pairs[0]; math.Abs(q.Mean-0.01) > 1e-9 || math.Abs(q.Worst-0.01) > 1e-9 || q.Stations < 8 {
		t.Errorf("the best pair is %+v", q)
	}
}

func TestTooLittleMeasuredStaysAlone(t *testing.T) {
	thin := exact(t, "begun", 0)
	thin.Readings = thin.Readings[:2]
	p := SideBySide(reportsOf(t, exact(t, "a", 0), thin, exact(t, "b", 0.1)))
	if len(p.Pairs) != 1 || len(p.Alone) != 1 || p.Alone[0] != 1 {
		t.Errorf("%+v", p)
	}
}

// costsOf draws a table of costs, some pairs impossible.
func costsOf(t *rapid.T, n int) [][]float64 {
	c := table(n, n)
	for i := range n {
		for j := i + 1; j < n; j++ {
			if rapid.IntRange(0, 9).Draw(t, "possible") > 0 {
				c[i][j] = rapid.Float64Range(0, 1).Draw(t, "cost")
				c[j][i] = c[i][j]
			}
		}
	}
	return c
}

func sumOf(t *rapid.T, cost [][]float64, partner []int) float64 {
	sum := 0.0
	for a, b := range partner {
		switch {
		case b < 0:
			sum += lonely
		case partner[b] != a || a == b:
			t.Fatalf("%v is no pairing", partner)
		case a < b:
			sum += cost[a][b]
		}
	}
	return sum
}

// bruteForce is the least sum, by trying everything.
func bruteForce(cost [][]float64, left []int) float64 {
	if len(left) == 0 {
		return 0
	}
	a, rest := left[0], left[1:]
	least := lonely + bruteForce(cost, rest)
	for i, b := range rest {
		others := slices.Delete(slices.Clone(rest), i, i+1)
		least = math.Min(least, cost[a][b]+bruteForce(cost, others))
	}
	return least
}

// TestMarriagesAreTheCheapest against every pairing tried one by one; the exchange comes near and never under.
func TestMarriagesAreTheCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		cost := costsOf(t, n)
		var all []int
		for i := range n {
			all = append(all, i)
		}
		least := bruteForce(cost, all)
		if got := sumOf(t, cost, marryExactly(cost)); math.Abs(got-least) > 1e-6 {
			t.Errorf("exactly: %v, the least is %v", got, least)
		}
		if got := sumOf(t, cost, exchange(cost, marryGreedily(cost))); got < least-1e-6 {
			t.Errorf("by exchange: %v under the least of %v", got, least)
		}
	})
}

func TestManyCopiesArePaired(t *testing.T) {
	var pieces []Piece
	for i := range 60 {
		pieces = append(pieces, exact(t, fmt.Sprint(i), float64(i*37%60)/100))
	}
	p := SideBySide(reportsOf(t, pieces...))
	if p.Exact || len(p.Pairs) != 30 {
		t.Fatalf("%d pairs, exact %v", len(p.Pairs), p.Exact)
	}
	sum := 0.0
	for _, q := range p.Pairs {
		sum += q.Mean
	}
	if sum > 30*0.01+1e-6 { // neighbours in thickness
		t.Errorf("the sum is %.3f mm, 0.3 is possible", sum)
	}
}

func BenchmarkMarryExactly(b *testing.B) {
	cost := table(mostExact, mostExact)
	for i := range cost {
		for j := range cost {
			cost[i][j] = math.Abs(math.Sin(float64(i*j + i + j)))
		}
	}
	for b.Loop() {
		marryExactly(cost)
	}
}
