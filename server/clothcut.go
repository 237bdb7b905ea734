package server

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// A rollRow is what a sheet has of one roll: reserved and to be cut, or cut.
type rollRow struct {
	Name, Swatch, Href string
	Length             amount
	Entry              string // of the reservation that is open; "" when it was cut
	Cut                field
	Said               string // who wrote the cut down, and when
	Short              string
}

// fromRolls are the lengths of a sheet that are reserved or cut, cloth before elastic.
func fromRolls(f file, sheet int, t cutTyped) []rollRow {
	var rows []rollRow
	for _, h := range f.Held {
		if h.Sheet != sheet || h.Kind == orders.Reserved && !h.Open {
			continue
		}
		row := rollRow{Name: capital(h.Of.Named()), Swatch: h.Of.Made.Swatch, Href: rollPath(h.Of.Number), Length: rollAmount(h.Length())}
		if h.Of.Reel > 0 {
			row.Name = "Elastic " + h.Of.Named()
		}
		if h.Open {
			row.Entry = h.ID
			row.Cut = field{Key: "cut-" + h.ID, Label: "Really cut", Hint: "The whole length that you took off, offcuts too.", Value: metres(h.Length())}
			if t.Entry == h.ID {
				row.Cut.Value, row.Cut.Problem = t.Value, t.Problem
			}
			if h.Of.Free < 0 {
				row.Short = fmt.Sprintf("%s lies there and more is reserved: buy the rest, or count it anew.", metres(h.Of.Left))
			}
		} else {
			row.Said = "cut, " + f.when(h.At) + ", " + h.By
			if h.Note != "" {
				row.Said = h.Note
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// limitCloth says beside the roll that is chosen what the hat takes of what is free for it.
func limitCloth(f file, rows []figureRow) {
	sol, _, shown := shownSolution(f.Fitted)
	for i, row := range rows {
		if row.Key != orders.RollFigure || !shown {
			continue
		}
		for _, r := range f.Fitted.Rolls {
			if strconv.Itoa(r.Number) != row.Value {
				continue
			}
			free := r.Free
			for _, h := range f.Held {
				if h.Open && h.Of.Number == r.Number {
					free += h.Length() // its own
				}
			}
			takes := orders.ToCut(sol.Result.Cloth.Takes.Length)
			rows[i].Limits = append(rows[i].Limits, limitLine{"Takes " + metres(takes) + " of " + metres(max(0, free)) + " that is free for it", takes > free})
		}
	}
}

// cutTyped is a posted cut that could not be taken.
type cutTyped struct{ Entry, Value, Problem string }

func (s *Server) cutFromRoll(c *gin.Context) error {
	id, entry := c.Param("id"), c.PostForm("entry")
	t := cutTyped{Entry: entry, Value: tidy(c.PostForm("cut-" + entry))}
	mm := 0
	if mm, t.Problem = readRollLength("Really cut", t.Value, 1, s.Now()); t.Problem != "" {
		return s.sheetAgain(c, http.StatusUnprocessableEntity, t)
	}
	left, err := s.Store.Cut(c.Request.Context(), id, entry, mm, s.maker(c))
	if err == nil {
		s.note(c, fmt.Sprintf("%s written down as cut; %s is left.%s", metres(mm), metres(left.Left), shortOf(left)))
	}
	return s.afterCut(c, t, err)
}

func (s *Server) letClothGo(c *gin.Context) error {
	entry := c.PostForm("entry")
	err := s.Store.LetGo(c.Request.Context(), c.Param("id"), entry, s.maker(c))
	if err == nil {
		s.note(c, "It is free for other hats.")
	}
	return s.afterCut(c, cutTyped{Entry: entry}, err)
}

func (s *Server) afterCut(c *gin.Context, t cutTyped, err error) error {
	if p, ok := asProblem(err); ok {
		t.Problem = p.Text
		return s.sheetAgain(c, http.StatusUnprocessableEntity, t)
	}
	if errors.Is(err, orders.ErrConflict) { // a form sent twice, or somebody else did it
		s.note(c, "That was written down already.")
		err = nil
	}
	if err != nil {
		return err
	}
	return onward(c, fmt.Sprintf("/workroom/commissions/%s/sheets/%s#cloth", c.Param("id"), c.Param("number")))
}
