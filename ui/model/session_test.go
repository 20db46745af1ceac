package model

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuits"
)

// still answers with what the test has put into it.
type still struct {
	procedures []*procedure.Procedure
	answer     func(ctx context.Context, cs *circuit.Case) (*Answer, error)
}

func (e *still) Procedures() []*procedure.Procedure { return e.procedures }

func (e *still) Ask(ctx context.Context, cs *circuit.Case, _ Units, progress func(done, total int)) (*Answer, error) {
	progress(0, 2)
	defer progress(2, 2)
	if e.answer == nil {
		return &Answer{}, nil
	}
	return e.answer(ctx, cs)
}

func (e *still) Curves(context.Context, *circuit.Case, *Suspect, *procedure.Procedure) (*Plot, error) {
	return &Plot{Title: "curves"}, nil
}

func newSession(t testing.TB, answer func(ctx context.Context, cs *circuit.Case) (*Answer, error)) *Session {
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	cs := &circuit.Case{Circuit: "gritter", Title: "t"}
	s := NewSession(c, &still{procedure.For(n), answer}, cs, Origin{Vehicle: "gritter"}, "psi", func() {})
	t.Cleanup(s.Close)
	return s
}

func settle(t testing.TB, s *Session) {
	t.Helper()
	require.Eventually(t, func() bool { s.Collect(); return !s.Working().Running }, 10*time.Second, time.Millisecond)
	s.Collect()
}

func buildUp(text string) circuit.Finding {
	return circuit.Finding{Procedure: "build-up-85-100", Reading: "time", Result: circuit.Result{Kind: circuit.Number, Text: text}}
}

func heard(place string, k circuit.ResultKind) circuit.Finding {
	return circuit.Finding{Procedure: "listen-building", Reading: "hiss", Place: place, Result: circuit.Result{Kind: k, Text: string(k)}}
}

func TestAReadingTakenAgainReplacesTheOld(t *testing.T) {
	s := newSession(t, nil)
	require.NoError(t, s.Enter(buildUp("70 s")))
	require.NoError(t, s.Enter(buildUp("66 s"), heard("dryer.3", circuit.No)))
	require.Len(t, s.Case().Findings, 2)
	assert.Equal(t, "f1", s.Case().Findings[0].ID)
	assert.Equal(t, "66 s", s.Case().Findings[0].Result.Text)
	assert.Equal(t, "f2", s.Case().Findings[1].ID)
	require.True(t, s.Undo())
	require.Len(t, s.Case().Findings, 1)
	assert.Equal(t, "70 s", s.Case().Findings[0].Result.Text)
	s.Undo()
	s.Redo()
	s.Redo()
	assert.Len(t, s.Case().Findings, 2)
	s.Remove("f1")
	require.NoError(t, s.Enter(buildUp("50 s")))
	assert.Equal(t, "f3", s.Case().Findings[1].ID, "an id of its own")
}

// Bubbles noted on a round by ear are one finding there and on the round with soap, and one of a row takes the other's place.
func TestBubblesNotedOnARoundByEar(t *testing.T) {
	s := newSession(t, nil)
	f := func(procedure, reading, instrument string, k circuit.ResultKind) circuit.Finding {
		return circuit.Finding{Procedure: procedure, Reading: reading, Place: "rear_relay", Instrument: instrument, Result: circuit.Result{Kind: k, Text: string(k)}}
	}
	reading := func(id, name string) *procedure.Reading {
		p := s.procedure(id)
		i, ok := p.Reading(name, "rear_relay")
		require.True(t, ok)
		return &p.Readings[i]
	}
	ear, soap := reading("listen-parked", "hiss"), reading("soap-parked", "bubbles")
	require.NoError(t, s.Enter(f("listen-parked", "hiss", "", circuit.Yes)))
	require.NoError(t, s.Enter(f("listen-parked", "hiss", "soap", circuit.Yes)))
	require.Len(t, s.Case().Findings, 1)
	for _, r := range []*procedure.Reading{ear, soap} {
		at, ok := s.Finding(r)
		require.True(t, ok)
		assert.Equal(t, "soap", at.Instrument)
	}
	require.NoError(t, s.Enter(f("soap-parked", "bubbles", "", circuit.No)))
	require.Len(t, s.Case().Findings, 1, "the same place, brushed again")
	_, ok := s.Finding(ear)
	assert.False(t, ok)
	require.NoError(t, s.Enter(f("listen-parked", "hiss", "", circuit.Yes)))
	assert.Len(t, s.Case().Findings, 2, "heard, and looked at")
}

func TestWhatCannotBeReadIsNotHalfEntered(t *testing.T) {
	s := newSession(t, nil)
	require.Error(t, s.Enter(heard("dryer.3", circuit.Yes), buildUp("70 psi")))
	require.Error(t, s.Enter(circuit.Finding{Procedure: "no-such-test", Reading: "time"}))
	require.Error(t, s.Enter(heard("nowhere", circuit.Yes)))
	assert.Empty(t, s.Case().Findings)
	_, can := s.CanUndo()
	assert.False(t, can)
}

func TestRecordClearsAndEntersAsOneDeed(t *testing.T) {
	s := newSession(t, nil)
	require.NoError(t, s.Enter(buildUp("70 s"), heard("dryer.3", circuit.No)))
	require.NoError(t, s.Record([]circuit.Finding{heard("rear_relay", circuit.Yes)}, []string{"f1", "f2"}))
	require.Len(t, s.Case().Findings, 1)
	s.Undo()
	assert.Len(t, s.Case().Findings, 2)
}

func TestQuietPlacesShareACard(t *testing.T) {
	s := newSession(t, nil)
	require.NoError(t, s.Enter(heard("dryer.3", circuit.No), heard("rear_relay", circuit.Yes), heard("front_release", circuit.No), buildUp("70 s")))
	cards := s.Cards()
	require.Len(t, cards, 3)
	assert.Len(t, cards[0].Findings, 2)
	assert.Contains(t, cards[0].Result, "Quiet at 2 places")
	assert.True(t, cards[1].Bad)
	assert.Equal(t, "Air heard", cards[1].Result)
	assert.Equal(t, "70 s", cards[2].Result)
	assert.NotEmpty(t, cards[2].Place, "the gauge that the time is taken on")
	s.Remove(cards[0].Findings...)
	assert.Len(t, s.Case().Findings, 2)
}

func TestSayNamesPlaceAndResult(t *testing.T) {
	s := newSession(t, nil)
	span := buildUp("60..75 s")
	span.Result.Kind = circuit.Range
	require.NoError(t, s.Enter(heard("dryer.3", circuit.Yes), span))
	assert.Contains(t, s.Say(s.Case().Findings[0]), "air dryer, purge")
	assert.Contains(t, s.Say(s.Case().Findings[1]), "60 to 75 s")
	assert.Equal(t, "strange reading 5 s", s.Say(circuit.Finding{Procedure: "strange", Reading: "reading", Result: circuit.Result{Text: "5 s"}}))
}

func TestSkippedAndRefusedAreNotProposed(t *testing.T) {
	s := newSession(t, nil)
	settle(t, s) // nobody is asking the engine any more
	s.Engine.(*still).answer = func(context.Context, *circuit.Case) (*Answer, error) {
		a := &Answer{}
		for _, p := range s.Procedures()[:3] {
			a.Next = append(a.Next, Next{Procedure: p})
		}
		return a, nil
	}
	s.AskAgain()
	settle(t, s)
	all := s.Procedures()
	s.Skip(all[0])
	s.Refuse(all[1])
	settle(t, s)
	require.Len(t, s.Proposals(), 1)
	assert.Equal(t, all[2], s.Proposals()[0].Procedure)
	assert.Equal(t, []string{all[0].Title}, s.Skipped())
	assert.Equal(t, []string{all[1].Title}, s.Refused())
	s.Reoffer()
	assert.Len(t, s.Proposals(), 3)
	s.Undo()
	assert.Len(t, s.Proposals(), 1)
}

func TestANewerQuestionWinsOverAnOlder(t *testing.T) {
	first := make(chan struct{})
	s := newSession(t, func(ctx context.Context, cs *circuit.Case) (*Answer, error) {
		if len(cs.Findings) == 0 {
			<-first // answers late, after it was cancelled
			return &Answer{Stop: "old"}, nil
		}
		return &Answer{Stop: "new"}, nil
	})
	require.NoError(t, s.Enter(buildUp("70 s")))
	settle(t, s)
	close(first)
	time.Sleep(20 * time.Millisecond)
	s.Collect()
	a, current := s.Answer()
	require.NotNil(t, a)
	assert.True(t, current)
	assert.Equal(t, "new", a.Stop)
}

// inParts is an engine that tells an early answer and goes on when it is told to.
type inParts struct {
	*still
	goOn chan struct{}
}

func (e inParts) AskInParts(ctx context.Context, cs *circuit.Case, u Units, first func(*Answer), progress func(done, total int)) (*Answer, error) {
	first(&Answer{Early: true, Else: 0.5})
	select {
	case <-e.goOn:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	return e.Ask(ctx, cs, u, progress)
}

// What is known early is shown while the rest is worked out, and stays if that is stopped.
func TestAnEarlyAnswerIsShown(t *testing.T) {
	s := newSession(t, func(context.Context, *circuit.Case) (*Answer, error) { return &Answer{Stop: "whole"}, nil })
	settle(t, s)
	e := inParts{s.Engine.(*still), make(chan struct{})}
	s.Engine = e
	early := func() {
		t.Helper()
		require.Eventually(t, func() bool { s.Collect(); a, _ := s.Answer(); return a != nil && a.Early }, 10*time.Second, time.Millisecond)
		_, current := s.Answer()
		assert.False(t, current)
		assert.True(t, s.Working().Early)
	}
	s.AskAgain()
	early()
	assert.True(t, s.Working().Running)
	close(e.goOn)
	settle(t, s)
	a, current := s.Answer()
	assert.True(t, current)
	assert.Equal(t, "whole", a.Stop)

	e.goOn = make(chan struct{})
	s.Engine = e
	s.AskAgain()
	early()
	s.StopWorking()
	settle(t, s)
	early()
	assert.True(t, s.Working().Stopped)
}

func TestCancelAndFailure(t *testing.T) {
	s := newSession(t, func(ctx context.Context, cs *circuit.Case) (*Answer, error) {
		if len(cs.Findings) == 0 {
			<-ctx.Done()
			return nil, ctx.Err()
		}
		return nil, errors.New("it broke")
	})
	s.StopWorking()
	settle(t, s)
	assert.True(t, s.Working().Stopped)
	require.NoError(t, s.Working().Err, "a cancelled question is no failure")
	require.NoError(t, s.Enter(buildUp("70 s")))
	settle(t, s)
	require.EqualError(t, s.Working().Err, "it broke")
	assert.False(t, s.Working().Stopped)
}

func TestSelectionFollowsTheAnswer(t *testing.T) {
	s := newSession(t, func(context.Context, *circuit.Case) (*Answer, error) {
		return &Answer{Suspects: []Suspect{{Key: "a/x", Target: "a", Probability: 0.5}, {Key: "b/y", Target: "b", Probability: 0.3}, {Key: "a/z", Target: "a", Probability: 0.1}},
			Cleared: []Cleared{{Target: "c", Because: "quiet"}}}, nil
	})
	settle(t, s)
	assert.Nil(t, s.Selected())
	s.SelectNext(-1)
	assert.Equal(t, "a/z", s.Selected().Key)
	s.SelectNext(1)
	assert.Equal(t, "a/x", s.Selected().Key)
	s.Select("gone/away")
	assert.Nil(t, s.Selected())
	assert.InDelta(t, 0.6, s.Standing("a").Probability, 1e-12)
	assert.Len(t, s.Standing("c").Cleared, 1)
}

func TestPercentClaimsNoCertainty(t *testing.T) {
	for p, want := range map[float64]string{0: "< 1 %", 0.004: "< 1 %", 0.01: "1 %", 0.345: "35 %", 0.994: "> 99 %", 1: "> 99 %"} {
		assert.Equal(t, want, Percent(p), "%g", p)
	}
}

func TestSaveTakesTheCaseToAFile(t *testing.T) {
	s := newSession(t, nil)
	require.NoError(t, s.Enter(heard("rear_relay", circuit.Yes)))
	assert.True(t, s.Dirty())
	path := filepath.Join(t.TempDir(), "case.toml")
	require.NoError(t, s.Save(path))
	assert.False(t, s.Dirty())
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	cs, err := circuit.ReadCase(path, text)
	require.NoError(t, err)
	assert.Contains(t, cs.Digest, "rear_relay:")
	assert.Empty(t, circuit.CheckCase(cs, s.Circuit))
	s.Undo()
	assert.True(t, s.Dirty())
	s.Redo()
	assert.False(t, s.Dirty(), "back to what was saved")
}
