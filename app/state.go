package app

import (
	"fyne.io/fyne/v2/lang"

	"spindlestick/profile/view"
)

// state says in a few words what a step has, or what it misses.
func (m *model) state(s step) (text string, done bool) {
	photo := len(m.job.Photo) > 0
	switch s {
	case stepPhoto:
		return m.photoState(photo)
	case stepScale:
		if !m.traced() || !photo {
			return "", m.traced()
		}
		return m.scaleWords(), true
	case stepOutline:
		if n := len(m.job.Measurement.Outline.Sides[0]); n > 0 {
			return lang.L("both edges"), true
		}
		return "", m.traced()
	case stepPattern:
		if m.traced() {
			return counted("{{.N}} elements", len(m.pattern().Elements)), true
		}
		return "", false
	}
	if !m.traced() {
		return "", false
	}
	if s == stepCopies {
		return lang.L("plan and check"), true
	}
	return lang.L("ready to print"), true
}

func (m *model) photoState(photo bool) (string, bool) {
	switch {
	case photo:
		return m.job.PhotoName, true
	case m.traced():
		return lang.L("none: a pattern alone"), true
	}
	return lang.L("open one"), false
}

// next is the first step that misses something.
func (m *model) next() step {
	for s := step(0); s < stepCount; s++ {
		if _, done := m.state(s); !done {
			return s
		}
	}
	return stepStick
}

// scaleWords names what the scale rests on.
func (m *model) scaleWords() string {
	s := m.job.Sighting
	if n := len(s.Boards); n > 0 {
		return counted("{{.N}} boards", n)
	}
	if s.Rule != nil {
		return counted("rule, {{.N}} lines", len(s.Rule.T))
	}
	return lang.L("known sizes")
}

// heightWords says how the axis lies, for people.
func heightWords() map[view.HeightMode]string {
	return map[view.HeightMode]string{
		view.Lies: lang.L("lies freely on the table"), view.Level: lang.L("level on the table"), view.Raised: lang.L("at the height of the boards"), view.Fixed: lang.L("at a stated height"),
	}
}

// heightHints say when each way applies.
func heightHints() map[view.HeightMode]string {
	return map[view.HeightMode]string{
		view.Lies:   lang.L("Put down as it is: it touches the table at its thickest parts, so its axis tilts. The tilt is worked out."),
		view.Level:  lang.L("The thin end is packed up until the axis is as high at both ends."),
		view.Raised: lang.L("The boards lie on blocks, their face as high as the axis. This measures best."),
		view.Fixed:  lang.L("The axis lies level at a height over the boards that you measured."),
	}
}
