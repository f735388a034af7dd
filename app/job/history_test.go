package job_test

import (
	"testing"

	"pgregory.net/rapid"

	"spindlestick/app/job"
)

func TestADragIsOneStep(t *testing.T) {
	h := job.NewHistory(0)
	for i := 1; i <= 5; i++ {
		h.Do("move station 7", "drag 7", i)
	}
	h.Seal()
	h.Do("move station 7", "drag 7", 9)
	if got := h.UndoName(); got != "move station 7" {
		t.Errorf("undo is named %q", got)
	}
	h.Undo()
	if h.Value() != 5 {
		t.Errorf("one undo gives %d, want the end of the first drag", h.Value())
	}
	h.Undo()
	if h.Value() != 0 || h.Undo() {
		t.Errorf("two undos give %d, want the start", h.Value())
	}
	if h.RedoName() != "move station 7" || !h.Redo() || h.Value() != 5 {
		t.Errorf("redo gives %d", h.Value())
	}
}

func TestDirtyFollowsTheFile(t *testing.T) {
	h := job.NewHistory("a")
	if h.Dirty() {
		t.Error("a fresh history is dirty")
	}
	h.Do("", "k", "b")
	h.MarkSaved()
	h.Do("", "k", "c") // must not overwrite the saved version
	if !h.Dirty() {
		t.Error("a change after saving is not seen")
	}
	h.Undo()
	if h.Dirty() || h.Value() != "b" {
		t.Errorf("undoing to the saved version: dirty %v, %q", h.Dirty(), h.Value())
	}
	h.Undo()
	h.Do("", "", "d")
	h.Redo()
	if !h.Dirty() {
		t.Error("the saved version is gone and the history says it is clean")
	}
}

// TestHistoryAgainstAPlainModel: undo and redo behave as two stacks do.
func TestHistoryAgainstAPlainModel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := job.NewHistory(0)
		undo, redo, now := []int{}, []int{}, 0
		for i := range rapid.IntRange(0, 60).Draw(t, "n") {
			switch rapid.IntRange(0, 2).Draw(t, "what") {
			case 0:
				h.Do("x", "", i+1)
				undo, redo, now = append(undo, now), nil, i+1
			case 1:
				if h.Undo() != (len(undo) > 0) {
					t.Fatal("undo disagrees")
				}
				if n := len(undo); n > 0 {
					redo, now, undo = append(redo, now), undo[n-1], undo[:n-1]
				}
			case 2:
				if h.Redo() != (len(redo) > 0) {
					t.Fatal("redo disagrees")
				}
				if n := len(redo); n > 0 {
					undo, now, redo = append(undo, now), redo[n-1], redo[:n-1]
				}
			}
			if h.Value() != now {
				t.Fatalf("value %d, want %d", h.Value(), now)
			}
		}
	})
}
