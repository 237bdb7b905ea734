package orders

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// moneySteps are those of the scene that moneyInChild plays, in order.
var moneySteps = []string{"quoted", "accepted", "paid"}

func moneyInChild() error {
	return killed(func(s *Store) error {
		c := Commission{ID: os.Getenv("PERCHBOOK_TEST_DRAFT")}
		q, err := s.Quote(ctx, aQuotation(c, "A small hat"), 0, "Wren")
		if err != nil {
			return err
		}
		fmt.Println("SAID", moneySteps[0])
		if _, err := s.Accept(ctx, c.ID, 1, "Nella", q.Parts().Total); err != nil {
			return err
		}
		fmt.Println("SAID", moneySteps[1])
		if _, err := s.Pay(ctx, deposit(c), "Wren"); err != nil {
			return err
		}
		fmt.Println("SAID", moneySteps[2])
		return nil
	})
}

func deposit(c Commission) Payment {
	return Payment{ID: "depositdepositdepositdepos", CommissionID: c.ID, Payer: "Nella", Amount: 14657, Way: "cash", Day: "2027-01-05"}
}

func TestKilledAfterEveryStatementAboutMoney(t *testing.T) {
	for n, alive := 1, false; !alive; n++ {
		require.Less(t, n, 60, "the scene does not end")
		dir := t.TempDir()
		s, _ := openAt(t, dir)
		c := sent(t, s, nil)
		w, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: hat})
		require.NoError(t, err)
		_, err = s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it")
		require.NoError(t, err)
		before, err := s.Letters(ctx, c.ClientID)
		require.NoError(t, err)
		require.NoError(t, s.Close())

		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), childKey+"=money", "PERCHBOOK_TEST_DIR="+dir, "PERCHBOOK_TEST_DRAFT="+c.ID, fmt.Sprintf("PERCHBOOK_TEST_DIE_AT=%d", n))
		out, err := cmd.CombinedOutput()
		require.NotContains(t, string(out), "FAILED", "the child failed before it was killed")
		alive = err == nil
		stored := moneyStored(t, dir, c, len(before), n)
		for i, step := range moneySteps {
			if strings.Contains(string(out), "SAID "+step) {
				require.Greater(t, stored, i, "killed after statement %d: %q was said and is lost", n, step)
			}
		}
		if alive {
			require.Greater(t, n, 6, "the scene writes more than that; the child was not killed where it should be")
			require.Equal(t, len(moneySteps), stored, "the whole scene was played")
		}
	}
}

// moneyStored says how many steps a crash has left, each of them whole with its letter and its stage,
// and plays the rest.
func moneyStored(t *testing.T, dir string, c Commission, letters, n int) (stored int) {
	t.Helper()
	s, _ := openAt(t, dir)
	all, err := s.Quotations(ctx, c.ID)
	require.NoError(t, err)
	paid, err := s.Payments(ctx, c.ID)
	require.NoError(t, err)
	book, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	now, err := s.Commission(ctx, c.ID)
	require.NoError(t, err)
	stage := Proposed
	if len(all) > 0 {
		stored = 1
		if all[0].Accepted != nil {
			stored, stage = 2, Agreed
		}
	}
	require.Len(t, book, letters+stored, "killed after statement %d: a step without its letter, or a letter without its step", n)
	require.Equal(t, stage, now.Stage, "killed after statement %d: %d steps are stored", n, stored)
	if len(paid) == 1 {
		require.Equal(t, 2, stored)
		stored = 3
	}
	if stored == 0 {
		_, err = s.Quote(ctx, aQuotation(c, "A small hat"), 0, "Wren")
		require.NoError(t, err)
	}
	_, err = s.Accept(ctx, c.ID, 1, "Nella", aQuotation(c, "").Parts().Total)
	require.NoError(t, err, "what was interrupted can be done again")
	p, err := s.Pay(ctx, deposit(c), "Wren")
	require.NoError(t, err, "and what was not is done once")
	require.Equal(t, 1, p.Receipt)
	require.NoError(t, s.Close())
	return stored
}
