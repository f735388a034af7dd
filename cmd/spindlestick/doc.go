// Command spindlestick turns a photograph of an old turning into a pattern and a story stick, in a window or without one.
package main
