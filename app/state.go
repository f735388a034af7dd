package app

import "spindlestick/profile/view"

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
			return "both edges", true
		}
		return "", m.traced()
	case stepPattern:
		if m.traced() {
			return number(len(m.pattern().Elements)) + " elements", true
		}
		return "", false
	}
	if !m.traced() {
		return "", false
	}
	if s == stepCopies {
		return "plan and check", true
	}
	return "ready to print", true
}

func (m *model) photoState(photo bool) (string, bool) {
	switch {
	case photo:
		return m.job.PhotoName, true
	case m.traced():
		return "none: a pattern alone", true
	}
	return "open one", false
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
	switch n := len(s.Boards); {
	case n == 1:
		return "1 board"
	case n > 1:
		return number(n) + " boards"
	}
	if s.Rule != nil {
		return "rule, " + number(len(s.Rule.T)) + " lines"
	}
	return "known sizes"
}

// heightWords says how the axis lies, for people.
func heightWords() map[view.HeightMode]string {
	return map[view.HeightMode]string{
		view.Lies: "lies freely on the table", view.Level: "level on the table", view.Raised: "at the height of the boards", view.Fixed: "at a stated height",
	}
}
