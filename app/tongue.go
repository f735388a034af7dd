package app

import (
	"embed"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"sync"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	xnumber "golang.org/x/text/number"
)

// The window's texts stand in the code in English and are their own keys; translation/*.json holds the other tongues, and
// the English plurals. Lower packages speak English; their words are looked up by spoken where they are shown.

//go:embed translation/*.json
var translations embed.FS

// speak sets the texts up for the system's language. Where that is none of ours, the window speaks English and the
// toolkit's own dialogs the language of the system.
func speak() error {
	if err := lang.AddTranslationsFS(translations, "translation"); err != nil {
		return fmt.Errorf("read the window's texts: %w", err)
	}
	system := string(lang.SystemLocale())
	name, _, _ := strings.Cut(system, "-")
	own := fyne.Locale(name)
	if _, err := translations.ReadFile("translation/" + name + ".json"); err != nil {
		english, err := translations.ReadFile("translation/en.json")
		if err != nil {
			return fmt.Errorf("read the window's texts: %w", err)
		}
		if err := lang.AddTranslationsForLocale(english, own); err != nil {
			return fmt.Errorf("read the window's texts: %w", err)
		}
	}
	mark, err := json.Marshal(map[string]string{decimalKey: decimalMark(system)})
	if err != nil {
		return err
	}
	return lang.AddTranslationsForLocale(mark, own)
}

// decimalKey is the text that carries the decimal mark of the system's region: it is the region's, not the language's
// (Swiss German writes a point).
const decimalKey = "decimal mark"

// decimalMark is a point or a comma as CLDR has it for a locale. Marks that the fields cannot read back become a point.
func decimalMark(locale string) string {
	tag, err := language.Parse(locale)
	if err == nil && strings.Contains(message.NewPrinter(tag).Sprint(xnumber.Decimal(0.5)), ",") {
		return ","
	}
	return "."
}

// local writes a number's decimal mark as the user's region does.
func local(figures string) string {
	if mark := lang.X(decimalKey, "."); mark != "." {
		return strings.ReplaceAll(figures, ".", mark)
	}
	return figures
}

// phrase is a text with values in it: names and values in turn, "Saved {{.File}}.", "File", name.
func phrase(text string, pairs ...any) string { return lang.L(text, values(pairs)) }

// counted is a text about n things, {{.N}} in it, in the singular or the plural.
func counted(text string, n int, pairs ...any) string {
	v := values(pairs)
	v["N"] = n
	return lang.N(text, n, v)
}

func values(pairs []any) map[string]any {
	v := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		v[fmt.Sprint(pairs[i])] = pairs[i+1]
	}
	return v
}

// known are the texts that the translations hold. Read once: they are part of the program.
var known = sync.OnceValue(func() map[string]bool {
	data, err := translations.ReadFile("translation/en.json")
	texts := map[string]any{}
	if err == nil {
		err = json.Unmarshal(data, &texts)
	}
	if err != nil {
		return nil // speak says why
	}
	out := map[string]bool{}
	for key := range texts {
		out[key] = true
	}
	return out
})

var (
	clauses = regexp.MustCompile(`^(.*?)(: |; |\. |\.?$)`)
	figures = regexp.MustCompile(`[-+]?\d+(\.\d+)?`)
)

// wordyTexts are the translations with words in them that change, @, as patterns.
var wordyTexts = sync.OnceValue(func() map[string]*regexp.Regexp {
	out := map[string]*regexp.Regexp{}
	for key := range known() {
		if strings.Contains(key, "@") {
			out[key] = regexp.MustCompile("^" + strings.ReplaceAll(regexp.QuoteMeta(key), "@", "(.+?)") + "$")
		}
	}
	return out
})

// spoken is what a package below says, in the user's language, clause by clause; a number stands as # in the translations,
// words that change as @.
// A clause that they do not have stays as it is.
func spoken(text string) string {
	var out strings.Builder
	for text != "" {
		m := clauses.FindStringSubmatch(text)
		if m == nil {
			break
		}
		out.WriteString(spokenClause(m[1]) + m[2])
		text = text[len(m[0]):]
	}
	return out.String() + text
}

func spokenClause(text string) string {
	numbers := figures.FindAllString(text, -1)
	shape := figures.ReplaceAllString(text, "#")
	said := shape
	switch key, words := wordyText(shape); {
	case known()[shape]:
		said = lang.L(shape)
	case key != "":
		said = lang.L(key)
		for _, w := range words {
			said = strings.Replace(said, "@", spokenShape(w), 1)
		}
	default:
		return text
	}
	for _, n := range numbers {
		said = strings.Replace(said, "#", local(n), 1)
	}
	return said
}

// wordyText is the translation with changing words that a clause matches, and those words; "" = none.
func wordyText(shape string) (key string, words []string) {
	for key, pattern := range wordyTexts() {
		if m := pattern.FindStringSubmatch(shape); m != nil {
			return key, m[1:]
		}
	}
	return "", nil
}

// spokenShape is a clause within a clause, its numbers still #.
func spokenShape(shape string) string {
	if known()[shape] {
		return lang.L(shape)
	}
	return shape
}
