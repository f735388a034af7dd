package vision

import (
	"math"
)

// edgeSample is one pixel near an edge: its distance d from the contour (px, outward) and its value
// (1 inside the piece, 0 outside).
type edgeSample struct{ d, v, w float64 }

// step is a fitted blurred step: B outside and A just inside the edge, where further in the value
// changes by Limb times the root of the depth.
type step struct {
	At    float64 // place of the edge, px outward of the contour
	Sigma float64 // standard deviation of At, px
	Blur  float64 // standard deviation of the blur, px
	A, B  float64
	Limb  float64 // per root of a pixel
	Noise float64 // root mean square residual
	OK    bool
	kind  measure
}

// stepPrior is what is known of a step before it is fitted.
type stepPrior struct {
	blur, limb           float64
	blurSigma, limbSigma float64    // standard deviations: of ln blur, of limb
	texture              [2]float64 // standard deviation of the values inside and outside, clear of the edge
}

// slopePrior is the standard deviation, per pixel, that a plateau's remaining slope is expected to
// have: soft shadows and grain stay below it, and it keeps noise from being read as slope.
const slopePrior = 0.01

// The parameters of a step: place, ln blur, the two levels, the limb, the slopes inside and outside.
const (
	atAt = iota
	atBlur
	atA
	atB
	atLimb
	atIn
	atOut
	stepParams
)

type stepVec [stepParams]float64

// fitStep fits a blurred step to the samples by Gauss-Newton. reach is how far (px) the edge may be
// from the contour.
func (t *limbTable) fitStep(s []edgeSample, reach float64, prior stepPrior) step {
	if len(s) < 12 {
		return step{}
	}
	start := scanStep(s, prior.blur, reach)
	if !start.OK {
		return step{}
	}
	weigh(s, start.At, prior.texture)
	return t.newtonStep(s, start, reach, prior)
}

var texLen, texNoise = 1.5, 0.015

func weigh(s []edgeSample, at float64, texture [2]float64) {
	for i := range s {
		depth := at - s[i].d
		tex := texture[0]
		if depth < 0 {
			depth, tex = -depth, texture[1]
		}
		u := tex * math.Min(1, depth/texLen)
		s[i].w = texNoise * texNoise / (texNoise*texNoise + u*u)
	}
}

// scanStep tries places half a pixel apart with the two levels by least squares.
func scanStep(s []edgeSample, blur, reach float64) step {
	best := step{Noise: math.Inf(1)}
	for d := -reach; d <= reach+1e-9; d += 0.5 {
		var n, sp, spp, sv, spv, svv float64
		for _, q := range s {
			p := phi((d - q.d) / blur)
			n, sp, spp, sv, spv, svv = n+1, sp+p, spp+p*p, sv+q.v, spv+p*q.v, svv+q.v*q.v
		}
		den := n*spp - sp*sp
		if den < 1e-9 {
			continue
		}
		rise := (n*spv - sp*sv) / den
		level := (sv - rise*sp) / n
		if rise <= 0 {
			continue
		}
		sse := svv - level*sv - rise*spv
		if sse < best.Noise {
			best = step{At: d, Blur: blur, A: level + rise, B: level, Noise: sse, OK: true}
		}
	}
	return best
}

// phi is the normal distribution function.
func phi(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// newtonStep refines a step.
func (t *limbTable) newtonStep(s []edgeSample, st step, reach float64, prior stepPrior) step {
	p := stepVec{st.At, math.Log(prior.blur), st.A, st.B, prior.limb}
	mean := stepVec{atBlur: p[atBlur], atLimb: prior.limb}
	sd := stepVec{atBlur: prior.blurSigma, atLimb: prior.limbSigma, atIn: slopePrior, atOut: slopePrior}
	var h [stepParams]stepVec
	var sse float64
	for range 12 { // converges within about five
		var g stepVec
		h, g, sse = t.normalStep(s, p)
		noise2 := math.Max(sse/float64(len(s)-4), 1e-8)
		for k, v := range sd {
			if v > 0 {
				h[k][k] += noise2 / (v * v)
				g[k] -= noise2 / (v * v) * (p[k] - mean[k])
			}
		}
		d, ok := solveStep(h, g)
		if !ok {
			return step{}
		}
		d[atAt] = math.Max(-1, math.Min(1, d[atAt]))
		d[atBlur] = math.Max(-0.5, math.Min(0.5, d[atBlur]))
		for k := range p {
			p[k] += d[k]
		}
		if !(math.Abs(p[atAt]) <= reach+1) {
			return step{}
		}
		if math.Abs(d[atAt]) < 1e-4 && math.Abs(d[atBlur]) < 1e-3 {
			break
		}
	}
	out := step{At: p[atAt], Blur: math.Exp(p[atBlur]), A: p[atA], B: p[atB], Limb: p[atLimb]}
	out.Noise = math.Sqrt(sse / float64(len(s)-4))
	e, ok := solveStep(h, stepVec{1})
	out.Sigma = out.Noise * math.Sqrt(math.Max(e[0], 0))
	out.OK = ok
	return out
}

// normalStep is the normal matrix, the negative gradient and the sum of squares at p.
func (t *limbTable) normalStep(s []edgeSample, p stepVec) (h [stepParams]stepVec, g stepVec, sse float64) {
	blur := math.Exp(p[atBlur])
	root := math.Sqrt(blur)
	for _, q := range s {
		z := (p[atAt] - q.d) / blur // positive inside
		in := phi(z)
		bell := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
		limb, steep := t.at(z)
		deep := blur * (z*in + bell)    // blurred depth inside
		out := blur * (bell - z*(1-in)) // blurred distance outside
		height := p[atA] - p[atB]
		j := stepVec{
			(height*bell+p[atLimb]*root*steep)/blur + p[atIn]*in - p[atOut]*(1-in),
			-height*bell*z + p[atLimb]*root*(limb/2-z*steep) + (p[atIn]+p[atOut])*blur*bell,
			in, 1 - in, root * limb, deep, out,
		}
		r := q.v - (p[atB] + height*in + p[atLimb]*root*limb + p[atIn]*deep + p[atOut]*out)
		sse += q.w * r * r
		for a := range j {
			g[a] += q.w * j[a] * r
			for b := a; b < stepParams; b++ {
				h[a][b] += q.w * j[a] * j[b]
			}
		}
	}
	for a := range h {
		for b := range a {
			h[a][b] = h[b][a]
		}
	}
	return h, g, sse
}

// solveStep solves h x = g by Cholesky; false if h is not positive definite.
func solveStep(h [stepParams]stepVec, g stepVec) (stepVec, bool) {
	const n = stepParams
	for i := range n {
		for j := range i + 1 {
			v := h[i][j]
			for k := range j {
				v -= h[i][k] * h[j][k]
			}
			if i != j {
				h[i][j] = v / h[j][j]
				continue
			}
			if !(v > 1e-14) {
				return g, false
			}
			h[i][i] = math.Sqrt(v)
		}
	}
	for i := range n {
		for k := range i {
			g[i] -= h[i][k] * g[k]
		}
		g[i] /= h[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			g[i] -= h[k][i] * g[k]
		}
		g[i] /= h[i][i]
	}
	return g, true
}
