package plan

import "strings"

// wrap breaks words at spaces into lines that fit; a word that does not fit stands alone.
func wrap(words string, fits func(string) bool) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(words) {
		longer := strings.TrimSpace(line + " " + w)
		if line != "" && !fits(longer) {
			lines = append(lines, line)
			longer = w
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
