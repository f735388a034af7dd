package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

type sheetCmd struct {
	Job   string `arg:"" help:"A job or a pattern."`
	Out   string `short:"o" required:"" placeholder:"F.pdf|.svg|.dxf|.png" help:"The file to write; its ending says how."`
	Show  string `enum:"stick,drawing,template,table,all" default:"stick" help:"${enum}."`
	Paper string `enum:"a4,letter,a3,tabloid,roll" default:"a4" help:"${enum}."`
	Units string `enum:"mm,in" default:"mm" help:"${enum}."`
}

// endings are the kinds of file a sheet can be.
var endings = []string{".pdf", ".svg", ".dxf", ".png"}

// Validate is called once the command line is read.
func (c sheetCmd) Validate() error {
	if !slices.Contains(endings, strings.ToLower(filepath.Ext(c.Out))) {
		return fmt.Errorf("-o %s: the file must end in %s", c.Out, strings.Join(endings, ", "))
	}
	return nil
}

// Run writes the sheet.
func (c sheetCmd) Run(environment) error {
	j, err := job.Open(c.Job)
	if err != nil {
		return err
	}
	if !j.Traced() {
		return fmt.Errorf("%s holds no pattern yet: trace its photograph first", c.Job)
	}
	units := profile.MM
	if c.Units == "in" {
		units = profile.Fraction
	}
	doc, err := sheet.Make(j.Pattern, sheet.Options{
		Show: sheet.Show(c.Show), Paper: sheet.Paper(c.Paper), Units: units, Title: j.Title, Date: time.Now().Format("2 January 2006"),
	})
	if err != nil {
		return err
	}
	return sheet.WriteFile(c.Out, doc)
}
