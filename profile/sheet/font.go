package sheet

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// capRatio is the height of a capital letter in units of the font size, and descent how far letters reach below the
// baseline in units of the capital's height: 1480 and 432 of 2048 units in the Go fonts' own metrics.
const (
	capRatio = 1480.0 / 2048
	descent  = 432.0 / 1480
)

// missing stands for a letter that the font does not have.
const missing = '?'

// face is a parsed font. It is only read, so several goroutines may use it.
type face struct {
	ttf     []byte
	font    *sfnt.Font
	advance map[rune]float64 // of each letter that the font has, in units of the font size
}

// regular and bold parse the fonts compiled into the program, once.
func regular() face { return parsedRegular() }
func bold() face    { return parsedBold() }

var (
	parsedRegular = sync.OnceValue(func() face { return parse(goregular.TTF) })
	parsedBold    = sync.OnceValue(func() face { return parse(gobold.TTF) })
)

// lastLetter bounds the letters looked for: the fonts' own end with the ligatures just before it.
const lastLetter = 0xfb02

func parse(ttf []byte) face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic(fmt.Sprintf("sheet: the font compiled in does not parse: %v", err))
	}
	out := face{ttf, f, map[rune]float64{}}
	var b sfnt.Buffer
	em := fixed.Int26_6(f.UnitsPerEm())
	for r := ' '; r <= lastLetter; r++ {
		g, err := f.GlyphIndex(&b, r)
		if err != nil || g == 0 {
			continue
		}
		if w, err := f.GlyphAdvance(&b, g, em, font.HintingNone); err == nil {
			out.advance[r] = float64(w) / float64(em)
		}
	}
	return out
}

func (t Text) face() face {
	if t.Bold {
		return bold()
	}
	return regular()
}

// size is the font size (em), mm.
func (t Text) size() float64 { return t.Cap / capRatio }

// Width returns the text's length along its baseline, mm.
func (t Text) Width() float64 {
	f, sum := t.face(), 0.0
	for _, r := range t.S {
		sum += f.advance[r]
	}
	return sum * t.size()
}

// origin is where the first letter starts on the baseline.
func (t Text) origin() Point {
	w := t.Width() * float64(t.Anchor) / 2
	return Point{t.At.X - w*math.Cos(t.Turn), t.At.Y + w*math.Sin(t.Turn)}
}

// Box returns the four corners of the rectangle that the text's letters fill, from the descenders to the capitals.
func (t Text) Box() [4]Point {
	o, w := t.origin(), t.Width()
	sin, cos := math.Sincos(t.Turn)
	at := func(along, up float64) Point {
		return Point{o.X + along*cos - up*sin, o.Y - along*sin - up*cos}
	}
	return [4]Point{at(0, -descent*t.Cap), at(w, -descent*t.Cap), at(w, t.Cap), at(0, t.Cap)}
}

// printable returns s on one line and with every letter that the font lacks replaced.
func printable(s string) string {
	have := regular().advance
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		if unicode.IsControl(r) || unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Cf, r) {
			return -1
		}
		if _, ok := have[r]; !ok {
			return missing
		}
		return r
	}, s))
}

// textWidth is the width of a plain text of the given capital height, mm.
func textWidth(s string, capHeight float64) float64 {
	return Text{S: printable(s), Cap: capHeight}.Width()
}

// Wrap breaks s at spaces into lines of the given capital height no wider than width mm; a word that is wider stands alone and is cut.
func Wrap(s string, capHeight, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(printable(s)) {
		for textWidth(word, capHeight) > width && len([]rune(word)) > 1 {
			r := []rune(word)
			n := max(1, int(float64(len(r))*width/textWidth(word, capHeight))-1)
			lines, line, word = appendLine(lines, line), string(r[:n]), string(r[n:])
		}
		if line != "" && textWidth(line+" "+word, capHeight) > width {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	return appendLine(lines, line)
}

func appendLine(lines []string, line string) []string {
	if line == "" {
		return lines
	}
	return append(lines, line)
}
