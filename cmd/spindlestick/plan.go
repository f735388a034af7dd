package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/plan"
	"spindlestick/profile/sheet"
)

type planCmd struct {
	Job       string        `arg:"" help:"A job or a pattern."`
	Copies    int           `default:"1" help:"How many are to be made."`
	Species   string        `placeholder:"\"white oak\"" help:"The wood, for its movement and weight."`
	Moisture  *moistureFlag `placeholder:"12,8" help:"Moisture in % when turned and in use: sizes for the wood's movement (6 to 14 %, needs --species)."`
	Spacing   lengthFlag    `placeholder:"120mm" help:"Balusters: from middle to middle."`
	Tenons    wasteFlag     `placeholder:"25mm" help:"Balusters: how far both ends go into the rails, or 25mm,30mm at hook end and far end; 0: not at all (default: tenons that the pattern shows)."`
	Waste     wasteFlag     `placeholder:"25mm" help:"Waste at both ends of the blank, or 25mm,40mm at hook end and far end (default 1in)."`
	Stock     []lengthFlag  `sep:"none" placeholder:"2400mm" help:"A length in which the stock comes (repeatable; default 6, 8, 10 and 12 ft)."`
	Allowance lengthFlag    `placeholder:"1.6mm" help:"What sizing cuts leave on the diameter (default 1/16 in)."`
	Sanding   lengthFlag    `placeholder:"0.3mm" help:"What sanding takes off the diameter (default 0.3mm)."`
	TopSpeed  float64       `placeholder:"3200" help:"The lathe's highest speed, rpm."`
	Round     *roundFlag    `placeholder:"1/16in" help:"Workshop sizes: 1/64in, 1/32in, 1/16in, 0.1mm, 0.5mm, 1mm or none (default: as the job says)."`
	Out       string        `short:"o" placeholder:"F.pdf" help:"Write the plan as a sheet as well."`
	Paper     string        `enum:"a4,letter" default:"a4" help:"${enum}."`
}

// moistureFlag is TURNED,USE in per cent.
type moistureFlag plan.Moisture

func (m *moistureFlag) UnmarshalText(text []byte) error {
	a, b, ok := strings.Cut(string(text), ",")
	turned, err := strconv.ParseFloat(strings.Trim(a, " %"), 64)
	use, err2 := strconv.ParseFloat(strings.Trim(b, " %"), 64)
	if !ok || err != nil || err2 != nil {
		return fmt.Errorf("%q is not two moistures: write it like 12,8", text)
	}
	*m = moistureFlag{Turned: turned, Use: use}
	return nil
}

// wasteFlag is one length for both ends, or two with a comma between them; zero is taken as none.
type wasteFlag [2]float64

func (w *wasteFlag) UnmarshalText(text []byte) error {
	hook, far, two := strings.Cut(string(text), ",")
	if !two {
		far = hook
	}
	for i, s := range []string{hook, far} {
		mm, err := profile.ParseLength(s, profile.MM)
		if err != nil {
			return err
		}
		if mm < 0 {
			return fmt.Errorf("%q is below zero", s)
		}
		w[i] = mm
		if mm == 0 {
			w[i] = -1
		}
	}
	return nil
}

// Validate is called once the command line is read.
func (c planCmd) Validate() error {
	switch {
	case c.Copies < 1:
		return fmt.Errorf("--copies=%d: make one at least", c.Copies)
	case c.Tenons != wasteFlag{} && c.Spacing == 0:
		return errors.New("--tenons needs --spacing: only an opening between balusters asks for them")
	case c.Moisture != nil && c.Species == "":
		return errors.New("--moisture needs --species: each wood moves by its own measure")
	case c.Out != "" && !strings.EqualFold(filepath.Ext(c.Out), ".pdf"):
		return fmt.Errorf("-o %s: the plan is written as .pdf", c.Out)
	}
	return nil
}

func (c planCmd) options() plan.Options {
	o := plan.Options{
		Copies: c.Copies, Species: c.Species, Moisture: (*plan.Moisture)(c.Moisture), Spacing: float64(c.Spacing), Tenons: c.Tenons, Waste: c.Waste,
		Allowance: float64(c.Allowance), Sanding: float64(c.Sanding), TopSpeed: c.TopSpeed,
	}
	for _, l := range c.Stock {
		o.Lengths = append(o.Lengths, float64(l))
	}
	return o
}

// Run prints the plan, and writes its sheet where one is asked for.
func (c planCmd) Run(env environment) error {
	j, err := job.Open(c.Job)
	if err != nil {
		return err
	}
	if !j.Traced() {
		return fmt.Errorf("%s holds no pattern yet: trace its photograph first", c.Job)
	}
	sizes, _, note, err := workshop(j, c.Round)
	if err != nil {
		return err
	}
	if note != "" {
		fmt.Fprintln(env.stdout, note)
	}
	p, err := plan.Make(sizes, c.options())
	if err != nil {
		return err
	}
	if c.Out != "" {
		doc, err := p.Sheet(plan.SheetOptions{Title: j.Title, Date: time.Now().Format("2 January 2006"), Paper: sheet.Paper(c.Paper)})
		if err != nil {
			return err
		}
		if err := sheet.WriteFile(c.Out, doc); err != nil {
			return err
		}
	}
	return plan.WriteText(env.stdout, p.Sections())
}
