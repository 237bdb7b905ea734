package server

import (
	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// finishingForm is the check before a hat is ready, to tick off by name.
type finishingForm struct {
	Items []tickRow
	Open  bool // ticks can be set now; else they are only shown
	Done  bool
	field
}

type tickRow struct {
	Value, Label, Said string // Said: who ticked it off, and when
	Ticked             bool
}

// finishingOf is nil before the hat has been as far as the check.
func finishingOf(f file, t typed) *finishingForm {
	v := finishingForm{Open: f.Stage.Checked(), field: field{Key: "finishing"}}
	if t.Finishing != nil {
		v.Problem = t.Finishing.Text
	}
	by := map[string]orders.Tick{}
	for _, tick := range f.Finishing {
		by[tick.Item] = tick
	}
	v.Done = len(by) == len(orders.FinishingItems)
	if !v.Open && len(by) == 0 && v.Problem == "" {
		return nil
	}
	for _, item := range orders.FinishingItems {
		row := tickRow{Value: item.Key, Label: item.Words}
		if tick, ticked := by[item.Key]; ticked {
			row.Ticked, row.Said = true, tick.By+", "+f.when(tick.At)
		}
		v.Items = append(v.Items, row)
	}
	return &v
}

func (s *Server) tickOff(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	err := s.Store.TickOff(ctx, id, c.PostFormArray("item"), s.maker(c))
	if err == nil {
		s.note(c, "The finishing check is kept, with your name.")
		return onward(c, "/workroom/commissions/"+id+"#finishing")
	}
	p, ok := asProblem(err)
	if !ok {
		return err
	}
	return s.commissionAgain(c, id, typed{Finishing: p})
}
