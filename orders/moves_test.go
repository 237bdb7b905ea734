package orders

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTheTableOfMoves(t *testing.T) {
	for i, from := range Stages {
		moves := from.Moves()
		require.NotEmpty(t, moves, "%s is a dead end", from)
		for _, to := range moves {
			require.Contains(t, Stages, to, "%s leads to an unknown stage", from)
		}
		require.NotContains(t, moves, from, "%s leads to itself", from)
		if from.Closed() {
			require.NotContains(t, moves, HandedOver, "%s is re-opened into the workroom", from)
			continue
		}
		require.True(t, slices.Index(Stages, HandedOver) == i || moves[0] == Stages[i+1], "the usual next stage stands first after %s", from)
		require.False(t, from != HandedOver && from.WantsWhy(moves[0]), "the usual move from %s needs no reason", from)
		for _, to := range moves {
			if usual := from != HandedOver && to == Stages[i+1]; !usual {
				require.True(t, from.WantsWhy(to), "%s to %s is unusual and needs a reason", from, to)
			}
		}
		if from != HandedOver {
			require.Subset(t, moves, []Stage{Withdrawn, Lapsed}, "%s can be left", from)
		}
	}
	moves := Enquiry.Moves()
	moves[0] = Lapsed
	require.Equal(t, Measured, Enquiry.Moves()[0], "the table cannot be changed from outside")
}

// walk moves a commission on, giving a reason each time.
func walk(t testing.TB, s *Store, c Commission, stages ...Stage) Commission {
	t.Helper()
	for _, to := range stages {
		var err error
		if to == Ready {
			tickedOff(t, s, c)
		}
		c, err = s.Move(ctx, c.ID, c.Version, to, "Wren", "as agreed")
		require.NoError(t, err, "to %s", to)
	}
	return c
}

// tickedOff is the finishing check done.
func tickedOff(t testing.TB, s *Store, c Commission) {
	t.Helper()
	var all []string
	for _, item := range FinishingItems {
		all = append(all, item.Key)
	}
	require.NoError(t, s.TickOff(ctx, c.ID, all, "Wren"), "tick off the finishing check")
}

// signed is a commission with a fit sheet.
func signed(t testing.TB, s *Store) Commission {
	t.Helper()
	c := sent(t, s, nil)
	settle(t, s, c)
	c, err := s.Commission(ctx, c.ID)
	require.NoError(t, err)
	return c
}

// settle signs the commission's proposal off.
func settle(t testing.TB, s *Store, c Commission) FitSheet {
	t.Helper()
	w, err := s.working(ctx, c.ID)
	require.NoError(t, err)
	w.Figures = hat
	w, err = s.SaveWorking(ctx, w)
	require.NoError(t, err, "save the working")
	sheet, err := s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it")
	require.NoError(t, err, "sign off")
	return sheet
}

// hat is a whole hat in the milliner's own figures.
var hat = map[string]float64{
	"hat.base_mm": 115, "hat.forward_deg": 18, "hat.sideways_deg": -22, "hat.brim_width_mm": 60, "hat.brim_slope_deg": 55,
}

func TestACommissionGoesItsUsualWay(t *testing.T) {
	s, clock := newStore(t)
	c := signed(t, s)
	clock.add(time.Hour)
	c = walk(t, s, c, Agreed, InHand, InFitting, Finishing, Ready, HandedOver)
	require.Equal(t, HandedOver, c.Stage)
	history, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	last := history[len(history)-1]
	assert.Equal(t, Move{From: Ready, To: HandedOver, By: "Wren", Why: "as agreed", At: clock.now().UTC()}, last, "who, when and why")
	for i, m := range history[1:] {
		assert.Equal(t, history[i].To, m.From, "the history has no gap")
	}
}

func TestAMoveNeedsAReasonUnlessUsual(t *testing.T) {
	s, _ := newStore(t)
	c := signed(t, s)
	_, err := s.Move(ctx, c.ID, c.Version, Measured, "Wren", "  ")
	problem(t, err, "why")
	_, err = s.Move(ctx, c.ID, c.Version, Withdrawn, "Wren", "")
	problem(t, err, "why")
	c, err = s.Move(ctx, c.ID, c.Version, Agreed, "Wren", "")
	require.NoError(t, err, "the usual move needs none")
	require.Equal(t, Agreed, c.Stage)
}

func TestAMoveThatIsNotInTheTable(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	_, err := s.Move(ctx, c.ID, c.Version, Ready, "Wren", "hurry")
	problem(t, err, "stage")
	_, err = s.Move(ctx, c.ID, c.Version, "no stage", "Wren", "hurry")
	problem(t, err, "stage")
	_, err = s.Move(ctx, newID(), 1, Measured, "Wren", "x")
	require.ErrorIs(t, err, ErrNotFound)
}

func TestStagesAreGuarded(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	_, err := s.Move(ctx, c.ID, c.Version, Proposed, "Wren", "")
	problem(t, err, "guard")
	lapsed := walk(t, s, c, Lapsed)
	_, err = s.Move(ctx, c.ID, lapsed.Version, InHand, "Wren", "she is back")
	problem(t, err, "guard") // re-opening is no way past the fit sheet

	bare := sent(t, s, map[string]string{"girth": Later})
	_, err = s.Move(ctx, bare.ID, bare.Version, Measured, "Wren", "")
	problem(t, err, "guard")
}

func TestAnOldVersionDoesNotMove(t *testing.T) {
	s, _ := newStore(t)
	c := signed(t, s)
	walk(t, s, c, Agreed)
	_, err := s.Move(ctx, c.ID, c.Version, Agreed, "Wren", "again")
	require.ErrorIs(t, err, ErrConflict)
}

func TestWithdrawnGivesItsHoursBackAndCanComeBack(t *testing.T) {
	s, _ := newStore(t)
	c := signed(t, s)
	a := booked(t, s, c, tomorrow)
	c = walk(t, s, c, Withdrawn)
	a, err := s.Appointment(ctx, a.ID)
	require.NoError(t, err)
	require.Equal(t, Cancelled, a.State, "its hour is given back")
	booked(t, s, signed(t, s), tomorrow) // and somebody else can have it

	_, err = s.Book(ctx, c.ID, Fitting, InPerson, tomorrow.Add(3*time.Hour))
	problem(t, err, "start")
	c = walk(t, s, c, InHand)
	require.Equal(t, InHand, c.Stage, "re-opened where it was left")
}
