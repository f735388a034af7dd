// Package whole writes files that appear complete or not at all.
package whole
