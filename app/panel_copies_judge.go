package app

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
	"spindlestick/profile/check"
)

// judge is the question how copies are judged.
type judge struct {
	diameter, place, at, calipers, station, times *widget.Entry
	align                                         *widget.Select
	unit                                          profile.Unit
}

// aligns are the ways to lay a copy on its original.
func aligns() []check.Align { return []check.Align{check.HookEnd, check.BestFit, check.AtStation} }

// askJudge asks for tolerances, alignment and exaggeration. Empty fields stand for the usual figures.
func (c *copies) askJudge() {
	j := newJudge(c.set(), c.window.model.unit)
	reason := paragraph("")
	var q *question
	ok := widget.NewButton(lang.L("OK"), func() {
		set, err := j.read(c.set())
		if err == nil {
			_, err = set.Reports(c.original())
		}
		if err == nil {
			_, err = check.Gauges(c.original(), set.Options)
		}
		if err != nil {
			reason.SetText(plainly(err))
			return
		}
		q.close()
		c.window.model.keepCopies(lang.L("change how copies are judged"), "", set)
	})
	ok.Importance = widget.HighImportance
	form := widget.NewForm(
		widget.NewFormItem(lang.L("Diameters, either way"), j.diameter), widget.NewFormItem(lang.L("Places, either way"), j.place),
		widget.NewFormItem(lang.L("At single stations"), j.at), widget.NewFormItem(lang.L("Calipers are good to"), j.calipers),
		widget.NewFormItem(lang.L("Laid by"), j.align), widget.NewFormItem(lang.L("Station"), j.station),
		widget.NewFormItem(lang.L("Deviations drawn"), j.times),
	)
	note := paragraph(lang.L("Inside and outside are said only where they hold for all of the uncertainty. The usual tolerances are common practice."))
	page := container.NewVBox(form, note, reason)
	q = c.window.newQuestion(lang.L("How copies are judged"), container.NewGridWrap(fyne.NewSize(460, page.MinSize().Height+2*reason.MinSize().Height), page), ok)
	c.window.win.Canvas().Focus(j.diameter)
}

func newJudge(s check.Set, u profile.Unit) *judge {
	field := func(mm float64, usual string) *widget.Entry {
		e := widget.NewEntry()
		e.SetPlaceHolder(usual)
		if mm > 0 {
			e.SetText(length(mm, u))
		}
		return e
	}
	usual := check.DefaultTolerance()
	j := &judge{
		unit: u, diameter: field(s.Tolerance.Diameter, long(usual.Diameter, profile.MM)), place: field(s.Tolerance.Station, long(usual.Station, profile.MM)),
		calipers: field(s.Calipers, long(check.DefaultCalipers, profile.MM)), station: field(s.Station, ""), at: field(0, "123.4=0.3mm; 250=1mm"),
		times: widget.NewEntry(),
	}
	j.times.SetPlaceHolder(lang.L("10 times as large"))
	if s.Exaggeration > 0 {
		j.times.SetText(decimals(s.Exaggeration, -1))
	}
	var parts []string
	for _, e := range s.Exceptions {
		parts = append(parts, length(e.X, u)+"="+length(e.Diameter, u))
	}
	j.at.SetText(strings.Join(parts, "; "))
	var labels []string
	chosen := 0
	for i, a := range aligns() {
		labels = append(labels, lang.L(string(a)))
		if a == s.Align {
			chosen = i
		}
	}
	j.align = widget.NewSelect(labels, func(string) { enable(j.station, j.align.SelectedIndex() == 2) })
	j.align.SetSelectedIndex(chosen)
	return j
}

// read takes the fields over a set.
func (j *judge) read(s check.Set) (check.Set, error) {
	var err error
	for _, f := range []struct {
		e  *widget.Entry
		to *float64
	}{{j.diameter, &s.Tolerance.Diameter}, {j.place, &s.Tolerance.Station}, {j.calipers, &s.Calipers}, {j.station, &s.Station}} {
		if *f.to, err = j.length(f.e.Text); err != nil {
			return s, err
		}
	}
	if s.Exaggeration, err = times(j.times.Text); err != nil {
		return s, err
	}
	s.Align = aligns()[j.align.SelectedIndex()]
	if s.Align != check.AtStation {
		s.Station = 0
	}
	s.Exceptions, err = readExceptions(j.at.Text, j.unit)
	return s, err
}

// length is a field's length, 0 where it is empty.
func (j *judge) length(text string) (float64, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	mm, err := profile.ParseLength(text, j.unit)
	if err == nil && mm < 0 {
		err = errorText(lang.L("write a length like 450mm, 17 3/4in"))
	}
	return mm, err
}

func times(text string) (float64, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	v, err := parseNumber(text)
	if err != nil || !(v >= 1 && v <= 1000) {
		return 0, errorText(lang.L("Deviations can be drawn 1 to 1000 times as large."))
	}
	return v, nil
}

// readExceptions reads STATION=TOLERANCE with semicolons between them; bare figures are in a unit.
func readExceptions(text string, u profile.Unit) ([]check.Exception, error) {
	var out []check.Exception
	for _, part := range strings.Split(text, ";") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		at, tolerance, ok := strings.Cut(part, "=")
		x, err := profile.ParseLength(at, u)
		d, err2 := profile.ParseLength(tolerance, u)
		if !ok || err != nil || err2 != nil || d <= 0 {
			return nil, errorText(phrase("{{.Text}} is not a station and its tolerance: write them like 123.4=0.3mm", "Text", strconv.Quote(strings.TrimSpace(part))))
		}
		out = append(out, check.Exception{X: x, Tolerance: check.Tolerance{Diameter: d}})
	}
	return out, nil
}
