package job

// History holds the versions of a value, for undo and redo without limit. Patterns are small, so whole values are kept.
// The zero History is not usable: begin with NewHistory.
type History[T any] struct {
	steps []step[T]
	now   int // the index of the version in force
	saved int // the index of the version in the file; -1 when that version is gone
}

type step[T any] struct {
	name  string // what led to this version: "move station 7"
	key   string // changes with one key, one after the other, are one step
	value T
}

// NewHistory begins a history at a value, taken to be saved.
func NewHistory[T any](v T) *History[T] {
	return &History[T]{steps: []step[T]{{value: v}}}
}

// Value is the version in force.
func (h *History[T]) Value() T { return h.steps[h.now].value }

// Do makes v the version in force. name says what was done, in words that follow "Undo". While key repeats and is not
// empty, the same step takes the new value: a drag is one step. Seal ends such a run.
func (h *History[T]) Do(name, key string, v T) {
	cur := &h.steps[h.now]
	if key != "" && cur.key == key && h.now == len(h.steps)-1 && h.saved != h.now {
		cur.value = v
		return
	}
	if h.saved > h.now {
		h.saved = -1
	}
	h.steps = append(h.steps[:h.now+1], step[T]{name: name, key: key, value: v})
	h.now++
}

// Seal ends a run of changes that share a key.
func (h *History[T]) Seal() { h.steps[h.now].key = "" }

// Undo returns to the version before; false when there is none.
func (h *History[T]) Undo() bool {
	if h.now == 0 {
		return false
	}
	h.Seal()
	h.now--
	return true
}

// Redo goes back to the version that was undone last; false when there is none.
func (h *History[T]) Redo() bool {
	if h.now == len(h.steps)-1 {
		return false
	}
	h.now++
	return true
}

// UndoName names what Undo would take back; empty when there is nothing.
func (h *History[T]) UndoName() string { return h.steps[h.now].name }

// RedoName names what Redo would do again; empty when there is nothing.
func (h *History[T]) RedoName() string {
	if h.now == len(h.steps)-1 {
		return ""
	}
	return h.steps[h.now+1].name
}

// Dirty reports whether the version in force is not the one in the file.
func (h *History[T]) Dirty() bool { return h.now != h.saved }

// MarkSaved says that the version in force is now in the file.
func (h *History[T]) MarkSaved() {
	h.Seal()
	h.saved = h.now
}

// MarkUnsaved says that no version is in the file.
func (h *History[T]) MarkUnsaved() { h.saved = -1 }
