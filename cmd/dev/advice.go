package main

import "strings"

// manager is a package manager that this command does not drive: it prints the command for it.
type manager struct {
	name, install string
	of            func(need) string
}

func managers() []manager {
	return []manager{
		{"dnf", "sudo dnf install", func(n need) string { return n.dnf }},
		{"pacman", "sudo pacman -S --needed", func(n need) string { return n.pacman }},
		{"brew", "brew install", func(n need) string { return n.brew }},
	}
}

// advice says on one line which command brings what is lacking: the command of the manager that is there, or of
// all that are known.
func advice(h host, lack []need) string {
	if h.OS == "windows" {
		return "missing: " + names(lack) + "; install MinGW-w64, and OpenCV 4.6 under C:\\opencv\\build\\install, then start again"
	}
	var lines []string
	for _, m := range managers() {
		if h.Has(m.name) {
			lines = []string{m.line(lack)}
			break
		}
		lines = append(lines, m.line(lack))
	}
	return "packages are installed by this command only with apt-get; run " + strings.Join(lines, " or ") + ", then start again"
}

// line is the manager's command, followed by what it has no package for.
func (m manager) line(lack []need) string {
	var words []string
	if list := packages(lack, m.of); len(list) > 0 {
		words = append(words, "`"+m.install+" "+strings.Join(list, " ")+"`")
	}
	var rest []need
	for _, n := range lack {
		if m.of(n) == "" {
			rest = append(rest, n)
		}
	}
	if len(rest) > 0 {
		words = append(words, "("+m.name+" has no package known here for: "+names(rest)+")")
	}
	return strings.Join(words, " ")
}
