// Command dev prepares a machine and then runs the demonstration or all checks: `go run ./cmd/dev demo` and `go run ./cmd/dev test`.
package main
