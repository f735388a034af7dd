package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"spindlestick/profile/sheet"
)

type boardCmd struct {
	Paper string `enum:"a4,letter" default:"a4" help:"${enum}."`
	Out   string `short:"o" required:"" placeholder:"boards.pdf" help:"The file to write."`
}

// Validate is called once the command line is read.
func (c boardCmd) Validate() error {
	if !strings.EqualFold(filepath.Ext(c.Out), ".pdf") {
		return fmt.Errorf("-o %s: boards are written as .pdf", c.Out)
	}
	return nil
}

// Run writes the scale boards.
func (c boardCmd) Run(environment) error {
	doc, err := sheet.Boards(sheet.Paper(c.Paper))
	if err != nil {
		return err
	}
	return sheet.WriteFile(c.Out, doc)
}
