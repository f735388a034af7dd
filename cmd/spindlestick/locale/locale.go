// Package locale hands the window toolkit a locale that it can read.
//
// On importing it, the toolkit reads the system's locale and complains on standard error about C.UTF-8, the usual one of
// servers and containers. Commands promise that standard error carries their own line alone, and no code of main runs early
// enough, so this package does its work as it is initialised: it leans on os and strings alone, which the toolkit needs as
// well, and packages that are ready are initialised in the order of their paths. TestStandardErrorIsOurs fails if that changes.
package locale

import (
	"os"
	"strings"
)

func init() {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if v := os.Getenv(name); v != "" {
			if plain, _, _ := strings.Cut(v, "."); plain == "C" || plain == "POSIX" {
				_ = os.Setenv(name, "C") // the name is valid, so it cannot fail
			}
			return
		}
	}
}
