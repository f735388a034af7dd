package main

import (
	"slices"
	"strings"
)

// need is one thing that must be on the machine: how a person calls it, how to ask for it, and which packages of
// each package manager bring it (several are separated by blanks; none when that manager has no package for it).
type need struct {
	what                   string
	found                  probe
	apt, dnf, pacman, brew string
}

// The names for apt were tried on Debian 12; those for the other managers are from memory.

// buildNeeds lists what building the program takes.
func buildNeeds(goos string) []need {
	needs := []need{
		{"a C compiler with the C library's headers", cHeader("stdlib.h"), "gcc libc6-dev", "gcc glibc-devel", "gcc", "gcc"},
		{"a C++ compiler", cxxHeader("vector"), "g++", "gcc-c++", "gcc", "gcc"},
	}
	if goos == "windows" {
		// The binding finds OpenCV by fixed folders there, not by asking.
		return needs
	}
	needs = append(needs,
		need{"pkg-config", pkgConfigWorks, "pkg-config", "pkgconf-pkg-config", "pkgconf", "pkg-config"},
		need{"OpenCV 4 (pkg-config opencv4)", module("opencv4", "4."), "libopencv-dev", "opencv-devel", "opencv", "opencv"},
	)
	if goos == "darwin" {
		// The system's own frameworks serve the window there.
		return needs
	}
	return append(needs, windowNeeds()...)
}

// windowNeeds lists the headers that the window's OpenGL and X11 code includes.
func windowNeeds() []need {
	x := func(header, apt, dnf, pacman string) need {
		return need{"the header " + header, cHeader(header), apt, dnf, pacman, ""}
	}
	return []need{
		{"OpenGL (GL/gl.h and pkg-config gl)", both(cHeader("GL/gl.h"), module("gl", "")), "libgl-dev", "mesa-libGL-devel", "libglvnd", ""},
		x("X11/Xlib.h", "libx11-dev", "libX11-devel", "libx11"),
		x("X11/XKBlib.h", "libx11-dev", "libX11-devel", "libx11"),
		x("X11/Xcursor/Xcursor.h", "libxcursor-dev", "libXcursor-devel", "libxcursor"),
		x("X11/extensions/Xrandr.h", "libxrandr-dev", "libXrandr-devel", "libxrandr"),
		x("X11/extensions/Xinerama.h", "libxinerama-dev", "libXinerama-devel", "libxinerama"),
		x("X11/extensions/XInput2.h", "libxi-dev", "libXi-devel", "libxi"),
		x("X11/extensions/xf86vmode.h", "libxxf86vm-dev", "libXxf86vm-devel", "libxxf86vm"),
	}
}

// testNeeds lists the programs that tests read the project's output with. One row here is all it takes to add one.
// Packages for Python go to the system's own, which need not be the first on the search path.
func testNeeds() []need {
	ezdxf := succeeds(cmd("/usr/bin/python3", "-c", "import ezdxf"))
	return []need{
		{"pdfinfo, pdftotext and pdftoppm, which read PDF", present("pdfinfo", "pdftotext", "pdftoppm"),
			"poppler-utils", "poppler-utils", "poppler", "poppler"},
		{"rsvg-convert, which reads SVG", present("rsvg-convert"), "librsvg2-bin", "librsvg2-tools", "librsvg", "librsvg"},
		{"ezdxf for /usr/bin/python3, which reads DXF", ezdxf, "python3-ezdxf", "python3-ezdxf", "", ""},
	}
}

// names lists what is lacking, for a message.
func names(lack []need) string {
	var words []string
	for _, n := range lack {
		words = append(words, n.what)
	}
	return strings.Join(words, "; ")
}

// packages lists a manager's packages for what is lacking, each once, in order.
func packages(lack []need, of func(need) string) []string {
	var list []string
	for _, n := range lack {
		for _, name := range strings.Fields(of(n)) {
			if !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	return list
}
