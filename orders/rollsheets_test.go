package orders

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"perchbook/fitting"
)

// chosen settles a hat on a roll and signs it off.
func chosenAndSigned(s *Store, c Commission, roll int, buysRest bool) (FitSheet, error) {
	w, err := s.working(ctx, c.ID)
	if err != nil {
		return FitSheet{}, err
	}
	w.Figures = map[string]float64{RollFigure: float64(roll)}
	for key, x := range hat {
		w.Figures[key] = x
	}
	if w, err = s.SaveWorking(ctx, w); err != nil {
		return FitSheet{}, err
	}
	return s.Sign(ctx, c.ID, Signing{Version: w.Version, By: "Wren", Why: "in sage", BuysRest: buysRest})
}

func cutFrom(t testing.TB, s *Store, c Commission, roll int) FitSheet {
	t.Helper()
	sheet, err := chosenAndSigned(s, c, roll, false)
	require.NoError(t, err)
	return sheet
}

// takes is the length of cloth that the sheet says.
func takes(t testing.TB, sheet FitSheet) int {
	t.Helper()
	_, out, err := sheet.Read()
	require.NoError(t, err)
	return ToCut(out.Cloth.Takes.Length)
}

func isHeld(t testing.TB, s *Store, c Commission) []HeldCloth {
	t.Helper()
	list, err := s.HeldCloth(ctx, c.ID)
	require.NoError(t, err)
	return list
}

func now(t testing.TB, s *Store, c Commission) Commission {
	t.Helper()
	c, err := s.Commission(ctx, c.ID)
	require.NoError(t, err)
	return c
}

func TestARollReachesTheEngine(t *testing.T) {
	s, _ := newStore(t)
	st := firstStudio()
	st.Materials = someMaterials()
	_, err := s.SaveStudio(ctx, st)
	require.NoError(t, err)
	aRoll(t, s, sage(), 5000)
	aRoll(t, s, RollCloth{Colour: "Ivory"}, 5000)
	c := sent(t, s, nil)
	cloth := func(roll float64) fitting.Cloth {
		f, err := s.Fitted(ctx, c.ID)
		require.NoError(t, err)
		require.Len(t, f.Rolls, 2)
		tried, err := f.With(map[string]float64{RollFigure: roll})
		require.NoError(t, err)
		require.Nil(t, tried.Broken)
		return tried.settled.Cloth
	}
	sageCloth, usual := cloth(1), cloth(2)
	assert.InDeltaSlice(t, []float64{905, 1500, 120, 0.22}, []float64{float64(*sageCloth.Width), float64(*sageCloth.Length), *sageCloth.Density, *sageCloth.Bias}, 1e-9, "the piece for one hat stays as long as usual")
	assert.InDeltaSlice(t, []float64{910, 1500, 120, 0.2}, []float64{float64(*usual.Width), float64(*usual.Length), *usual.Density, *usual.Bias}, 1e-9, "what nobody said of it stays as usual")
	assert.Equal(t, usual, cloth(9), "a roll that is none changes nothing")

	sheet := cutFrom(t, s, c, 1)
	in, out, err := sheet.Read()
	require.NoError(t, err)
	assert.InDelta(t, 905, in.Cloth.Width.Millimetres(), 1e-9)
	assert.InDelta(t, 905, out.Cloth.Takes.Width.Millimetres(), 1e-9, "the lay lies on its width")
	_, err = s.SaveWorking(ctx, Working{CommissionID: c.ID, Version: 3, Figures: map[string]float64{RollFigure: 1.5}})
	problem(t, err, RollFigure)
}

func TestSigningReservesAndTheNextSheetReplacesIt(t *testing.T) {
	s, _ := newStore(t)
	r, other := aRoll(t, s, sage(), 3000), aRoll(t, s, RollCloth{Colour: "Ivory", Width: 1400}, 3000)
	c := sent(t, s, nil)
	first := cutFrom(t, s, c, r.Number)
	length := takes(t, first)
	require.Greater(t, length, 200)
	require.Zero(t, length%5, "in half centimetres, as the sheet says it")
	assert.Equal(t, []int{3000, 3000 - length}, []int{theRoll(t, s, r.Number).Left, theRoll(t, s, r.Number).Free})

	second := cutFrom(t, s, now(t, s, c), other.Number)
	assert.Equal(t, 3000, theRoll(t, s, r.Number).Free, "the former sheet's cloth is free again")
	assert.Equal(t, 3000-takes(t, second), theRoll(t, s, other.Number).Free)
	list := isHeld(t, s, c)
	require.Len(t, list, 2)
	assert.Equal(t, []bool{false, true}, []bool{list[0].Open, list[1].Open})
	assert.Equal(t, []int{1, 2}, []int{list[0].Sheet, list[1].Sheet})
}

func TestTooShortARollIsSaidBeforeItIsSigned(t *testing.T) {
	s, _ := newStore(t)
	r := aRoll(t, s, sage(), 150)
	c := sent(t, s, nil)
	_, err := chosenAndSigned(s, c, r.Number, false)
	t.Log(problem(t, err, RollFigure).Text)
	sheets, err := s.Sheets(ctx, c.ID)
	require.NoError(t, err)
	require.Empty(t, sheets, "nothing of it is signed")
	require.Equal(t, r, theRoll(t, s, r.Number), "nor reserved")

	sheet, err := chosenAndSigned(s, c, r.Number, true)
	require.NoError(t, err, "she buys the rest")
	short := theRoll(t, s, r.Number)
	assert.Equal(t, []int{150, 150 - takes(t, sheet)}, []int{short.Left, short.Free})
	entries, _, err := s.Entries(ctx, r.Number, "", 1)
	require.NoError(t, err)
	assert.True(t, entries[0].Told, "the entry keeps that she knew")
	assert.Equal(t, c.Number, entries[0].Number)
	row := entryRow{Roll: r.Number, Kind: Counted, LeftBy: -10, FreeBy: -10, LeftAfter: 140, FreeAfter: short.Free - 10, Note: "x", ID: newID(), Who: "Wren", At: 1}
	assert.Error(t, s.writes(ctx).Create(&row).Error, "no entry goes below nothing unless she was told")
	counted, err := s.Count(ctx, r.Number, NewEntryID(), 3000, "there was a second end", "Wren")
	require.NoError(t, err)
	assert.Equal(t, 3000-takes(t, sheet), counted.Free, "longer than written down")
}

func TestCuttingUsesWhatWasReallyCut(t *testing.T) {
	s, _ := newStore(t)
	r := aRoll(t, s, sage(), 3000)
	c := sent(t, s, nil)
	cutFrom(t, s, c, r.Number)
	held := isHeld(t, s, c)[0]
	for _, length := range []int{0, -5, 3001, MostRollLength + 1} {
		_, err := s.Cut(ctx, c.ID, held.ID, length, "Wren")
		problem(t, err, "cut")
	}
	_, err := s.Cut(ctx, sent(t, s, nil).ID, held.ID, 700, "Wren")
	require.ErrorIs(t, err, ErrNotFound, "it is not that one's")
	left, err := s.Cut(ctx, c.ID, held.ID, 700, "Wren")
	require.NoError(t, err)
	assert.Equal(t, []int{2300, 2300}, []int{left.Left, left.Free})
	_, err = s.Cut(ctx, c.ID, held.ID, 700, "Wren")
	require.ErrorIs(t, err, ErrConflict, "once")
	require.ErrorIs(t, s.LetGo(ctx, c.ID, held.ID, "Wren"), ErrConflict, "what is cut is not let go")

	cutFrom(t, s, now(t, s, c), r.Number)
	assert.Equal(t, 2300, theRoll(t, s, r.Number).Free, "the same pieces are not cut again for a next sheet")
	w, err := s.working(ctx, c.ID)
	require.NoError(t, err)
	w.Figures["hat.base_mm"] = 140
	w, err = s.SaveWorking(ctx, w)
	require.NoError(t, err)
	larger, err := s.SignOff(ctx, c.ID, w.Version, "Wren", "larger")
	require.NoError(t, err)
	assert.Equal(t, 2300-takes(t, larger), theRoll(t, s, r.Number).Free, "other pieces are")
	list := isHeld(t, s, c)
	require.NoError(t, s.LetGo(ctx, c.ID, list[len(list)-1].ID, "Wren"))
	assert.Equal(t, 2300, theRoll(t, s, r.Number).Free, "unless she says that they are not")
}

func TestClothGoesWithTheStages(t *testing.T) {
	s, _ := newStore(t)
	r := aRoll(t, s, sage(), 3000)
	c := sent(t, s, nil)
	length := takes(t, cutFrom(t, s, c, r.Number))
	c = walk(t, s, now(t, s, c), Agreed)
	at := func(left, free int, when string) {
		roll := theRoll(t, s, r.Number)
		require.Equal(t, []int{left, free}, []int{roll.Left, roll.Free}, when)
	}
	at(3000, 3000-length, "agreed")
	c = walk(t, s, c, Withdrawn)
	at(3000, 3000, "withdrawn lets go")
	c = walk(t, s, c, Agreed)
	at(3000, 3000-length, "taken up again it is reserved again")
	c = walk(t, s, c, Measured)
	at(3000, 3000, "a step back lets go")
	c = walk(t, s, c, Proposed, Agreed, InHand)
	at(3000, 3000-length, "in hand and not cut yet")
	_, err := s.Count(ctx, r.Number, NewEntryID(), length-20, "moth", "Wren")
	require.NoError(t, err)
	c = walk(t, s, c, InFitting)
	at(0, 0, "what is at the fitting has been cut, of what there was")
	list := isHeld(t, s, c)
	assert.Equal(t, []any{Used, length - 20, unwritten}, []any{list[len(list)-1].Kind, list[len(list)-1].Length(), list[len(list)-1].Note})
	walk(t, s, c, InHand, InFitting, Finishing, Ready, HandedOver)
	at(0, 0, "nothing is used twice")
}

func TestTakingUpAgainSaysThatTheClothIsGone(t *testing.T) {
	s, _ := newStore(t)
	r := aRoll(t, s, sage(), 900)
	c := sent(t, s, nil)
	length := takes(t, cutFrom(t, s, c, r.Number))
	c = walk(t, s, now(t, s, c), Withdrawn)
	_, err := s.Count(ctx, r.Number, NewEntryID(), length-5, "cut for another", "Wren")
	require.NoError(t, err)
	_, err = s.Move(ctx, c.ID, c.Version, Proposed, "Wren", "she came back")
	problem(t, err, "guard")
	_, err = s.Take(ctx, c.ID, Step{Version: c.Version, To: Proposed, By: "Wren", Why: "more is ordered", PassOver: true})
	require.NoError(t, err)
	assert.Equal(t, -5, theRoll(t, s, r.Number).Free)
	history, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, "cloth", history[len(history)-1].PassedOver)
	require.NotZero(t, length)
}

func TestElasticIsReservedWhereItsLengthIsKept(t *testing.T) {
	s, _ := newStore(t)
	st := firstStudio()
	st.Materials = someMaterials()
	st, err := s.SaveStudio(ctx, st)
	require.NoError(t, err)
	fine, err := s.AddElastic(ctx, 2, 10_000, "Wren")
	require.NoError(t, err)
	assert.Equal(t, "“Fine, black”", fine.Named())
	_, err = s.AddElastic(ctx, 2, 10_000, "Wren")
	require.ErrorIs(t, err, ErrConflict, "its length is kept already")
	_, err = s.AddElastic(ctx, 7, 10_000, "Wren")
	require.ErrorIs(t, err, ErrNotFound)

	c := sent(t, s, nil)
	_, out, err := settle(t, s, c).Read()
	require.NoError(t, err)
	cut := ToCut(out.Elastic.Cut)
	assert.Equal(t, 10_000-cut, theRoll(t, s, fine.Number).Free, "the usual reel's")
	_, err = s.Cut(ctx, c.ID, isHeld(t, s, c)[0].ID, cut+30, "Wren")
	require.NoError(t, err)
	assert.Equal(t, 10_000-cut-30, theRoll(t, s, fine.Number).Left)

	other := sent(t, s, nil)
	settle(t, s, other)
	st.Materials.Reels[0].Name = "Finest, black"
	st, err = s.SaveStudio(ctx, st)
	require.NoError(t, err)
	assert.Equal(t, "Finest, black", theRoll(t, s, fine.Number).Made.Colour, "renamed with its reel")
	st.Materials.Reels = st.Materials.Reels[1:]
	_, err = s.SaveStudio(ctx, st)
	require.NoError(t, err)
	gone := theRoll(t, s, fine.Number)
	assert.False(t, gone.PutAway.IsZero(), "put away with its reel")
	assert.Zero(t, gone.Left)
	assert.False(t, isHeld(t, s, other)[0].Open)
}

func TestARollKeepsItsLengthWhenAHatIsErased(t *testing.T) {
	s, _ := newStore(t)
	r := aRoll(t, s, sage(), 3000)
	c, other := sent(t, s, nil), sent(t, s, nil)
	cutFrom(t, s, c, r.Number)
	_, err := s.Cut(ctx, c.ID, isHeld(t, s, c)[0].ID, 700, "Wren")
	require.NoError(t, err)
	w, err := s.working(ctx, c.ID)
	require.NoError(t, err)
	w.Figures["hat.base_mm"] = 140
	w, err = s.SaveWorking(ctx, w)
	require.NoError(t, err)
	_, err = s.SignOff(ctx, c.ID, w.Version, "Wren", "larger")
	require.NoError(t, err)
	length := takes(t, cutFrom(t, s, other, r.Number))
	copied, err := s.Copy(ctx, c.ID)
	require.NoError(t, err)
	var kinds []EntryKind
	for _, l := range copied.Commissions[0].Cloth {
		assert.Equal(t, "Roll 1, Sage green", l.Of)
		assert.Positive(t, l.Length)
		kinds = append(kinds, l.Kind)
	}
	assert.Equal(t, []EntryKind{Reserved, Used, Reserved}, kinds, "a copy has what was kept for her hat")

	require.NoError(t, s.Erase(ctx, c.ID))
	roll := theRoll(t, s, r.Number)
	assert.Equal(t, []int{2300, 2300 - length}, []int{roll.Left, roll.Free}, "what was cut stays cut, what was reserved is free")
	entries, _, err := s.Entries(ctx, r.Number, "", 20)
	require.NoError(t, err)
	hers := 0
	for _, e := range entries {
		assert.NotEqual(t, c.ID, e.CommissionID)
		if e.CommissionID == "" {
			hers++
			assert.Zero(t, e.Sheet)
		}
	}
	assert.Equal(t, 5, hers, "bought, and four that were hers")
}

// fabricated is a sheet of a hat that takes a length of a roll, without asking the engine.
func fabricated(t require.TestingT, s *Store, commissionID string, roll, length int) FitSheet {
	sheets, err := s.Sheets(ctx, commissionID)
	require.NoError(t, err)
	row := sheetRow{
		ID: newID(), CommissionID: commissionID, Number: len(sheets) + 1, Input: "{}", Proposal: "null", Figures: map[string]float64{RollFigure: float64(roll)}, SignedBy: "Wren", Signed: 1,
		Result: fmt.Sprintf(`{"cloth":{"takes":{"length_mm":%d},"pieces":[{"kind":"base","parts":1,"part":1,"diameter_mm":%d}]}}`, length, length),
	}
	require.NoError(t, s.writes(ctx).Create(&row).Error)
	return row.sheet()
}

// However lengths are bought, counted, reserved, cut and let go, a roll's lengths are the sums of its entries,
// what is not free is reserved by somebody, and no cloth is lost or made.
func TestNoClothIsLost(t *testing.T) {
	s, _ := newStore(t)
	crowd(t, s, 3)
	hats := []string{fmt.Sprintf("m%025d", 1), fmt.Sprintf("m%025d", 2), fmt.Sprintf("m%025d", 3)}
	rapid.Check(t, func(t *rapid.T) {
		left := map[int]int{}
		for range 2 {
			r, err := s.AddRoll(ctx, RollCloth{Colour: "Any"}, rapid.IntRange(1, 2000).Draw(t, "length"), "Wren")
			require.NoError(t, err)
			left[r.Number] = r.Left
		}
		numbers := rapid.SampledFrom([]int{theNewest(t, s) - 1, theNewest(t, s)})
		reserved := map[string][2]int{} // roll and length
		for _, id := range hats {
			require.NoError(t, s.releaseCloth(ctx, id, "Wren"))
		}
		fine := func(err error) bool {
			var p *Problem
			if errors.As(err, &p) {
				return false
			}
			require.NoError(t, err)
			return true
		}
		open := func(id string) string {
			list, err := s.HeldCloth(ctx, id)
			require.NoError(t, err)
			for _, h := range list {
				if h.Open {
					return h.ID
				}
			}
			return ""
		}
		t.Repeat(map[string]func(*rapid.T){
			"buy": func(t *rapid.T) {
				n, length := numbers.Draw(t, "roll"), rapid.IntRange(-5, 1500).Draw(t, "length")
				if fine(s.Buy(ctx, n, NewEntryID(), length, "", "Wren")) {
					left[n] += length
				}
			},
			"count": func(t *rapid.T) {
				n, length := numbers.Draw(t, "roll"), rapid.IntRange(-5, 1500).Draw(t, "length")
				_, err := s.Count(ctx, n, NewEntryID(), length, "counted", "Wren")
				if fine(err) {
					left[n] = length
				}
			},
			"sign": func(t *rapid.T) {
				id, n := rapid.SampledFrom(hats).Draw(t, "hat"), numbers.Draw(t, "roll")
				length, told := 5*rapid.IntRange(1, 300).Draw(t, "length"), rapid.Bool().Draw(t, "told")
				err := s.Together(ctx, func(s *Store) error { return s.reserve(ctx, fabricated(t, s, id, n, length), "Wren", told) })
				if fine(err) {
					delete(reserved, id)
					if open(id) != "" { // not when the same pieces are cut already
						reserved[id] = [2]int{n, length}
					}
				} else {
					require.False(t, told, "she had been told")
				}
			},
			"cut": func(t *rapid.T) {
				id, length := rapid.SampledFrom(hats).Draw(t, "hat"), rapid.IntRange(-5, 1500).Draw(t, "length")
				if open(id) == "" {
					t.Skip("nothing is reserved")
				}
				if _, err := s.Cut(ctx, id, open(id), length, "Wren"); fine(err) {
					left[reserved[id][0]] -= length
					delete(reserved, id)
				}
			},
			"let go": func(t *rapid.T) {
				id := rapid.SampledFrom(hats).Draw(t, "hat")
				require.NoError(t, s.releaseCloth(ctx, id, "Wren"))
				delete(reserved, id)
			},
			"move on": func(t *rapid.T) {
				id := rapid.SampledFrom(hats).Draw(t, "hat")
				err := s.Together(ctx, func(s *Store) error { return s.clothFollows(ctx, Commission{ID: id, Stage: InHand}, InFitting, "Wren") })
				require.NoError(t, err)
				if r, was := reserved[id]; was {
					left[r[0]] = max(0, left[r[0]]-r[1])
					delete(reserved, id)
				}
			},
			"": func(t *rapid.T) {
				for n, want := range left {
					r, err := s.Roll(ctx, n)
					require.NoError(t, err)
					entries, _, err := s.Entries(ctx, n, "", 1000)
					require.NoError(t, err)
					sumLeft, sumFree, kept := 0, 0, 0
					for _, e := range entries {
						sumLeft, sumFree = sumLeft+e.LeftBy, sumFree+e.FreeBy
					}
					for _, h := range reserved {
						if h[0] == n {
							kept += h[1]
						}
					}
					require.Equal(t, []int{want, want - kept}, []int{r.Left, r.Free}, "roll %d", n)
					require.Equal(t, []int{r.Left, r.Free}, []int{sumLeft, sumFree}, "sums of roll %d", n)
				}
			},
		})
	})
}

func theNewest(t require.TestingT, s *Store) (number int) {
	require.NoError(t, s.reads(ctx).Model(&rollRow{}).Select("max(number)").Scan(&number).Error)
	return number
}

// From one short roll many sign at once: as many get cloth as there is, and every other is told.
func TestManyAtOnceSignFromOneShortRoll(t *testing.T) {
	s, _ := newStore(t)
	crowd(t, s, 24)
	r := aRoll(t, s, sage(), 3400)
	var wait sync.WaitGroup
	failed := make([]error, 24)
	for i := range failed {
		wait.Go(func() {
			failed[i] = s.Together(ctx, func(s *Store) error {
				return s.reserve(ctx, fabricated(t, s, fmt.Sprintf("m%025d", i+1), r.Number, 500), "Wren", false)
			})
		})
	}
	wait.Wait()
	got := 0
	for _, err := range failed {
		if err == nil {
			got++
			continue
		}
		problem(t, err, RollFigure)
	}
	assert.Equal(t, 6, got, "six times half a metre of 3.40 m")
	assert.Equal(t, []int{3400, 400}, []int{theRoll(t, s, r.Number).Left, theRoll(t, s, r.Number).Free})
}

// clothSteps are those of the scene that clothInChild plays, in order.
var clothSteps = []string{"signed", "signed anew", "cut", "withdrawn"}

func clothInChild() error {
	return killed(func(s *Store) error {
		return playCloth(s, os.Getenv("PERCHBOOK_TEST_DRAFT"), 0, func(step string) { fmt.Println("SAID", step) })
	})
}

// playCloth signs from one roll, then from the other, cuts, signs larger pieces and withdraws.
func playCloth(s *Store, id string, from int, tell func(string)) error {
	for i, step := range []func() error{
		func() error { _, err := chosenAndSigned(s, Commission{ID: id}, 1, false); return err },
		func() error { _, err := chosenAndSigned(s, Commission{ID: id}, 2, false); return err },
		func() error {
			list, err := s.HeldCloth(ctx, id)
			if err == nil {
				_, err = s.Cut(ctx, id, list[len(list)-1].ID, 700, "Wren")
			}
			return err
		},
		func() error {
			c, err := s.Commission(ctx, id)
			if err == nil {
				_, err = s.Move(ctx, id, c.Version, Withdrawn, "Wren", "so be it")
			}
			return err
		},
	}[from:] {
		if err := step(); err != nil {
			return err
		}
		tell(clothSteps[from+i])
	}
	return nil
}

func TestKilledAfterEveryStatementAboutCloth(t *testing.T) {
	for n, alive := 1, false; !alive; n++ {
		require.Less(t, n, 80, "the scene does not end")
		dir := t.TempDir()
		s, _ := openAt(t, dir)
		aRoll(t, s, sage(), 3000)
		aRoll(t, s, RollCloth{Colour: "Ivory"}, 3000)
		c := sent(t, s, nil)
		require.NoError(t, s.Close())
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), childKey+"=cloth", "PERCHBOOK_TEST_DIR="+dir, "PERCHBOOK_TEST_DRAFT="+c.ID, fmt.Sprintf("PERCHBOOK_TEST_DIE_AT=%d", n))
		out, err := cmd.CombinedOutput()
		require.NotContains(t, string(out), "FAILED", "the child failed before it was killed: %s", out)
		alive = err == nil
		stored := clothStored(t, dir, c, n)
		for i, step := range clothSteps {
			if strings.Contains(string(out), "SAID "+step+"\n") {
				require.Greater(t, stored, i, "killed after statement %d: %q was said and is lost", n, step)
			}
		}
		if alive {
			require.Greater(t, n, 15, "the scene writes more than that; the child was not killed where it should be")
			require.Equal(t, len(clothSteps), stored, "the whole scene was played")
		}
	}
}

// clothStored says how many steps a crash has left, checks that rolls and sheets agree, and plays the rest.
func clothStored(t *testing.T, dir string, c Commission, n int) (stored int) {
	t.Helper()
	s, _ := openAt(t, dir)
	sheets, err := s.Sheets(ctx, c.ID)
	require.NoError(t, err)
	stored = len(sheets)
	roll := func(number int) []int { r := theRoll(t, s, number); return []int{r.Left, r.Free} }
	whole := []int{3000, 3000}
	list := isHeld(t, s, c)
	switch {
	case stored == 1:
		require.Equal(t, []int{3000, 3000 - takes(t, sheets[0])}, roll(1), "killed after statement %d: the sheet is there without its cloth", n)
	case stored == 2 && list[len(list)-1].Kind != Used:
		require.Equal(t, whole, roll(1), "killed after statement %d: the former sheet still holds its cloth", n)
		require.Equal(t, []int{3000, 3000 - takes(t, sheets[1])}, roll(2), "killed after statement %d", n)
	case stored == 2:
		stored = 3
		require.Equal(t, []int{2300, 2300}, roll(2), "killed after statement %d", n)
		if now(t, s, c).Stage == Withdrawn {
			stored = 4
		}
	default:
		require.Equal(t, [][]int{whole, whole}, [][]int{roll(1), roll(2)}, "killed after statement %d: cloth without its sheet", n)
	}
	require.NoError(t, playCloth(s, c.ID, stored, func(string) {}), "killed after statement %d: the rest can be played", n)
	require.Equal(t, [][]int{whole, {2300, 2300}}, [][]int{roll(1), roll(2)}, "killed after statement %d", n)
	require.NoError(t, s.Close())
	return stored
}
