package fit

import (
	"fmt"
	"syscall"
	"testing"
)

// The benchmarks here also report processor time, which does not grow with what else the machine does.

// processor returns the processor time that the process has used, ns.
func processor(t testing.TB) float64 {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return float64(u.Utime.Nano() + u.Stime.Nano())
}

// timed runs do, and reports its processor time.
func timed(b *testing.B, do func(i int) error) {
	b.Helper()
	start, n := processor(b), 0
	for b.Loop() {
		if err := do(n); err != nil {
			b.Fatal(err)
		}
		n++
	}
	b.ReportMetric((processor(b)-start)/float64(n), "cpu-ns/op")
}

// BenchmarkRefit is what follows the hand: an element of forty fitted again with its neighbours, and read again.
func BenchmarkRefit(b *testing.B) {
	p, tr := rich(40, 0.25, 0.03)
	b.ReportMetric(float64(len(tr.Samples)), "samples")
	timed(b, func(n int) error {
		i := n%(len(p.Elements)-2) + 1
		_, err := Refit(p, tr, i, i, Hold{})
		return err
	})
}

// BenchmarkRead reads a piece of forty elements.
func BenchmarkRead(b *testing.B) {
	p, tr := rich(40, 0.25, 0.03)
	timed(b, func(int) error {
		Read(p, tr)
		return nil
	})
}

// BenchmarkGrowth fits whole pieces: of twenty elements from more and more samples, and of more and more elements from
// as many samples. testdata/compare/growth.py draws what it prints.
func BenchmarkGrowth(b *testing.B) {
	run := func(name string, n, samples int) {
		p, _ := rich(n, 1, 0.03)
		_, tr := rich(n, p.Length/float64(samples), 0.03)
		b.Run(fmt.Sprintf("%s/%d/%d", name, n, len(tr.Samples)), func(b *testing.B) {
			timed(b, func(int) error {
				_, err := Trace(tr, Options{})
				return err
			})
		})
	}
	for _, samples := range []int{250, 500, 1000, 2000, 4000, 8000} {
		run("samples", 20, samples)
	}
	for _, n := range []int{5, 10, 20, 40, 80} {
		run("elements", n, 2000)
	}
}
