// Package job is the document behind the window: a photograph, what was read from it, the pattern made of it, the
// history of changes to that pattern, and the file that holds them. It knows no widgets.
package job
