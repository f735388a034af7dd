package app

import (
	"encoding/json"
	"go/ast"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/test"
	"pgregory.net/rapid"

	"spindlestick/profile"
	"spindlestick/profile/check"
	"spindlestick/profile/plan"
	"spindlestick/profile/sheet"
)

// TestMain pins the language: what the tests compare is English, whatever the machine speaks.
func TestMain(m *testing.M) {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANGUAGE"} {
		os.Unsetenv(name)
	}
	os.Setenv("LANG", "en_US.UTF-8")
	os.Exit(m.Run())
}

// texts reads one translation file: the forms of each key.
func texts(t *testing.T, name string) map[string][]string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("translation", name))
	if err != nil {
		t.Fatal(err)
	}
	raw := map[string]any{}
	if err := json.Unmarshal(data, &raw); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	out := map[string][]string{}
	for key, v := range raw {
		switch v := v.(type) {
		case string:
			out[key] = []string{v}
		case map[string]any:
			for _, form := range []string{"one", "other"} {
				s, _ := v[form].(string)
				out[key] = append(out[key], s)
			}
		}
	}
	return out
}

// vocabulary are the words of the packages below that the window shows.
func vocabulary() []string {
	var out []string
	add := func(n int, word func(i int) string) {
		for i := range n {
			out = append(out, word(i))
		}
	}
	add(len(profile.Kinds()), func(i int) string { return string(profile.Kinds()[i]) })
	add(len(sheet.Shows()), func(i int) string { return string(sheet.Shows()[i]) })
	add(len(sheet.Papers()), func(i int) string { return string(sheet.Papers()[i]) })
	add(len(check.Verdicts()), func(i int) string { return string(check.Verdicts()[i]) })
	add(len(plan.Woods()), func(i int) string { return plan.Woods()[i].Name })
	return out
}

// saidBelow are the clauses that the packages below can say, values as #.
func saidBelow(t *testing.T) map[string]bool {
	t.Helper()
	words, verbs := regexp.MustCompile(`%[swqv]`), regexp.MustCompile(`%[-+0-9.]*[a-zA-Z]`)
	out := map[string]bool{}
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		in, _ := filepath.Rel("..", path)
		top := strings.Split(in, string(filepath.Separator))[0]
		if in != "." && top != "vision" && top != "profile" && in != "app" && in != filepath.Join("app", "job") {
			return filepath.SkipDir
		}
		if n, _ := filepath.Glob(filepath.Join(path, "*.go")); len(n) == 0 || in == "app" {
			return nil
		}
		s := parseSource(t, path)
		s.walk(func(n ast.Node) {
			e, ok := n.(ast.Expr)
			if !ok {
				return
			}
			if text, ok := s.text(e); ok {
				text = flags.ReplaceAllString(text, "")
				text = words.ReplaceAllString(strings.ReplaceAll(text, "%%", "\x00"), "@")
				text = verbs.ReplaceAllString(text, "#")
				text = strings.ReplaceAll(text, "\x00", "%")
				text = figures.ReplaceAllString(text, "#")
				for text != "" {
					m := clauses.FindStringSubmatch(text)
					if m == nil {
						break
					}
					out[m[1]] = true
					text = text[len(m[0]):]
				}
			}
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestEveryTextHasItsTranslations: what the code asks for stands in every file, and nothing else does.
func TestEveryTextHasItsTranslations(t *testing.T) {
	used := usedTexts(parseSource(t, "."))
	for _, word := range vocabulary() {
		used[word] = true
	}
	below := saidBelow(t)
	english := texts(t, "en.json")
	for _, file := range []string{"en.json", "de.json"} {
		have := texts(t, file)
		for _, key := range sorted(used) {
			if _, ok := have[key]; !ok && key != decimalKey {
				t.Errorf("%s lacks %q", file, key)
			}
		}
		for key, forms := range have {
			if !used[key] && !below[key] {
				t.Errorf("%s has %q, which nothing asks for", file, key)
			}
			if len(forms) != len(english[key]) {
				t.Errorf("%s: %q has %d forms, in English %d", file, key, len(forms), len(english[key]))
			}
			for _, form := range forms {
				if !sameHoles(key, form) {
					t.Errorf("%s: %q has other values than its key %q", file, form, key)
				}
			}
		}
	}
}

// sameHoles reports whether two texts name the same values; a singular may leave the count out.
func sameHoles(a, b string) bool {
	holes := regexp.MustCompile(`\{\{[^}]*\}\}|#|@`)
	count := func(s string) string {
		found := holes.FindAllString(s, -1)
		sort.Strings(found)
		return strings.ReplaceAll(strings.Join(found, " "), "{{.N}}", "")
	}
	return strings.TrimSpace(count(a)) == strings.TrimSpace(count(b))
}

func sorted(m map[string]bool) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// TestNoTextBypassesTheTranslations: what people read is never a bare literal.
func TestNoTextBypassesTheTranslations(t *testing.T) {
	s := parseSource(t, ".")
	shows := map[string]bool{
		"NewLabel": true, "NewLabelWithStyle": true, "NewButton": true, "NewButtonWithIcon": true, "NewFormItem": true, "SetPlaceHolder": true, "NewCheck": true,
		"paragraph": true, "say": true, "fault": true, "errorText": true, "head": true, "newQuestion": true, "newReading": true, "showPage": true, "rich": true, "askText": true, "askFile": true, "SetText": true,
		"NewMenuItem": true, "NewMenu": true, "item": true, "hintLength": true, "edit": true,
	}
	word := regexp.MustCompile(`\pL{3,}`) // mm and in are written alike everywhere
	s.calls(func(_, name string, args []ast.Expr) {
		if !shows[name] {
			return
		}
		if name == "edit" {
			args = args[:1] // the second is a key, not a text
		}
		for _, arg := range args {
			if lit, ok := arg.(*ast.BasicLit); ok && lit.Kind == token.STRING && word.MatchString(lit.Value) && !isEnding(lit.Value) {
				t.Errorf("%s(%s): pass it through lang.L", name, lit.Value)
			}
			if sum, ok := arg.(*ast.BinaryExpr); ok {
				if lit, ok := sum.X.(*ast.BasicLit); ok && word.MatchString(lit.Value) {
					t.Errorf("%s(%s + …): use phrase", name, lit.Value)
				}
			}
		}
	})
}

// isEnding tells a quoted file name or its ending.
func isEnding(quoted string) bool {
	return strings.Contains(quoted, ".pdf") || strings.HasPrefix(quoted, `".`)
}

// inLanguage sets the system's language for one test.
func inLanguage(t *testing.T, locale string) {
	t.Helper()
	t.Cleanup(func() { // runs after the environment is put back
		if err := speak(); err != nil {
			t.Error(err)
		}
	})
	t.Setenv("LC_ALL", "")
	t.Setenv("LC_MESSAGES", "")
	t.Setenv("LANGUAGE", "")
	t.Setenv("LANG", locale)
	if err := speak(); err != nil {
		t.Fatal(err)
	}
}

func TestTheLanguageFollowsTheSystem(t *testing.T) {
	for _, c := range []struct{ locale, bead, half string }{
		{"en_US.UTF-8", "bead", "12.50 mm"},
		{"de_DE.UTF-8", "Rundstab", "12,50 mm"},
		{"de_AT.UTF-8", "Rundstab", "12,50 mm"},
		{"de_CH.UTF-8", "Rundstab", "12.50 mm"}, // CLDR: Swiss High German writes a point
		{"fr_FR.UTF-8", "bead", "12,50 mm"},     // no French yet, but its decimal comma
		{"C", "bead", "12.50 mm"},
	} {
		inLanguage(t, c.locale)
		if got := lang.L("bead"); got != c.bead {
			t.Errorf("%s: a bead is %q", c.locale, got)
		}
		if got := long(12.5, profile.MM); got != c.half {
			t.Errorf("%s: 12.5 mm reads %q", c.locale, got)
		}
	}
}

func TestFieldsReadEitherDecimalMarkInAnyLanguage(t *testing.T) {
	for _, locale := range []string{"en_US.UTF-8", "de_DE.UTF-8"} {
		inLanguage(t, locale)
		w := bench(t)
		w.model.selectElement(2)
		e := newEditor(w.model, w.say, func() {})
		for _, text := range []string{"15.5", "15,5", "15,5mm", "1.55cm", "1,55cm"} {
			e.d0.OnSubmitted("16")
			e.d0.OnSubmitted(text)
			if got := w.model.pattern().Elements[2].D0; !close2(got, 15.5, 1e-9) {
				t.Errorf("%s: %q sets %v mm", locale, text, got)
			}
		}
		if want := length(15.5, profile.MM); e.d0.Text != want {
			t.Errorf("%s: the field shows %q, want %q", locale, e.d0.Text, want)
		}
	}
}

// TestEnglishIsSpokenAsItIs: whatever the packages below say, English leaves it alone.
func TestEnglishIsSpokenAsItIs(t *testing.T) {
	inLanguage(t, "en_US.UTF-8")
	keys := sorted(known())
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		for range rapid.IntRange(0, 3).Draw(t, "clauses") {
			key := rapid.SampledFrom(keys).Draw(t, "key")
			if strings.Contains(key, "{{") {
				continue // not said below
			}
			key = strings.NewReplacer("#", "12.5", "@", "this").Replace(key)
			text += rapid.SampledFrom([]string{": ", "; ", ". ", " "}).Draw(t, "between") + key
		}
		if strings.ContainsAny(text, "#@") {
			return // these stand for what changes
		}
		if got := spoken(text); got != text {
			t.Fatalf("%q became %q", text, got)
		}
	})
}

func TestWhatIsSaidBelowIsTranslatedClauseByClause(t *testing.T) {
	test.NewTempApp(t)
	inLanguage(t, "de_DE.UTF-8")
	got := spoken("could not tell the piece from the ground: it differs from it by only 12.5 of 255 tones; use a ground of another colour, or softer light")
	if strings.Contains(got, "piece") || strings.Contains(got, "ground") || !strings.Contains(got, "12,5") || !strings.Contains(got, "255") {
		t.Errorf("said %q", got)
	}
	got = spoken("Diameters are good to about ±0.12 mm, the length to ±0.3 mm. Most of the diameters' share (0.08 mm) is how sharply the edges are seen at 0.21 mm a pixel: fill the frame, focus, use softer light and a plainer ground.")
	for _, want := range []string{"±0,12 mm", "±0,3 mm", "0,08 mm", "0,21 mm", "Kanten", "Bild füllen"} {
		if !strings.Contains(got, want) {
			t.Errorf("said %q, without %q", got, want)
		}
	}
	if got := spoken("a sentence nobody knows: with 1.5 in it"); got != "a sentence nobody knows: with 1.5 in it" {
		t.Errorf("an unknown sentence became %q", got)
	}
	inLanguage(t, "en_US.UTF-8")
	same := "could not tell the piece from the ground: it differs from it by only 12.5 of 255 tones; use softer light. 2 boards"
	if got := spoken(same); got != same {
		t.Errorf("English became %q", got)
	}
}
