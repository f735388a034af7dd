// Package assets holds the files that travel inside the program.
package assets

import _ "embed"

// Icon is the program's icon, PNG.
//
//go:embed icon.png
var Icon []byte
