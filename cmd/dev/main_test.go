package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"testing"
)

func TestParse(t *testing.T) {
	tests := []struct {
		args []string
		what string
		all  bool
		err  error
	}{
		{[]string{"demo"}, "demo", false, nil},
		{[]string{"test"}, "test", false, nil},
		{[]string{"test", "-all"}, "test", true, nil},
		{[]string{"test", "--all"}, "test", true, nil},
		{nil, "", false, errUsage},
		{[]string{"frobnicate"}, "", false, errUsage},
		{[]string{"demo", "-all"}, "", false, errUsage},
		{[]string{"test", "./..."}, "", false, errUsage},
		{[]string{"help"}, "", false, flag.ErrHelp},
		{[]string{"test", "-h"}, "", false, flag.ErrHelp},
	}
	for _, tt := range tests {
		what, all, err := parse(tt.args)
		if what != tt.what || all != tt.all || !errors.Is(err, tt.err) {
			t.Errorf("parse(%q) = %q, %v, %v", tt.args, what, all, err)
		}
	}
}

func TestWrongUsageDoesNoWork(t *testing.T) {
	var out bytes.Buffer
	if err := run(context.Background(), []string{"demo", "now"}, &out); !errors.Is(err, errUsage) || out.Len() > 0 {
		t.Errorf("error %v, output %q", err, &out)
	}
}
