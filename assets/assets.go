// Package assets holds the files that travel inside the program.
package assets

import _ "embed"

// Icon is the program's icon, PNG.
//
//go:embed icon.png
var Icon []byte

// Demo is the demonstration photograph, JPEG: a chair spindle between two raised scale boards. Its truth stands beside it in
// demo.json.
//
//go:embed demo/demo.jpg
var Demo []byte
