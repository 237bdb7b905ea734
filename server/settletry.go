package server

import (
	"fmt"
	"html/template"
	"math"
	"net/http"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/fitting"
	"perchbook/fitting/draw"
	"perchbook/orders"
)

// trySettle works the typed figures out and keeps nothing: settle.js asks for it while the milliner
// types or draws a slider.
func (s *Server) trySettle(c *gin.Context, f file, t settling) error {
	var err error
	if f.Fitted, err = f.Fitted.With(t.figures); err != nil {
		return err
	}
	t.rows, t.trouble = readSettling(c, f).rows, ""
	view, err := settleViewOf(http.StatusOK, f, t)
	if err != nil {
		return err
	}
	view.Tried = true
	return s.renderSettle(c, http.StatusOK, f, view)
}

// A slider is how far a figure may be drawn, in the unit in which it is typed.
type slider struct{ Least, Most, Step, At string }

// sliders are the ends of the range in which a figure is drawn; anything beyond can be typed.
var sliders = map[string][2]float64{
	"hat.base_mm": {60, 200}, "hat.forward_deg": {-30, 60}, "hat.sideways_deg": {-60, 60}, "hat.brim_width_mm": {20, 200}, "hat.brim_slope_deg": {-80, 80},
}

func (g figure) slider(at float64) *slider {
	ends, ok := sliders[g.Key]
	if !ok || math.IsNaN(at) {
		return nil
	}
	unit, step := 1.0, "1"
	if g.Measure == inLength {
		unit, step = 10, "0.1" // typed in cm
	}
	at = max(ends[0], min(at, ends[1]))
	return &slider{shortest(ends[0]/unit, 1), shortest(ends[1]/unit, 1), step, shortest(at/unit, 1)}
}

// A limitLine says beside a figure how the hat stands to a limit that this figure mends first.
type limitLine struct {
	Says   string
	Broken bool
}

// limitsOf are the lines for one figure.
func limitsOf(key string, in fitting.Input, r fitting.Result) []limitLine {
	var lines []limitLine
	for _, st := range fitting.Standings(in, r) {
		if says, known := limitWords[st.Field]; known && st.Figure == key {
			lines = append(lines, limitLine{says(st), !st.Met()})
		}
	}
	return lines
}

// limitWords say a limit with what it is held against.
var limitWords = map[string]func(fitting.Standing) string{
	"base.doming_deg": func(s fitting.Standing) string {
		return fmt.Sprintf("Doming pulls the weave %.0f° out of square, at most %.0f°", s.Value, s.Bound)
	},
	"hold.t_min_n": func(s fitting.Standing) string {
		if math.IsNaN(s.Value) {
			return "No tension of the elastic alone holds it"
		}
		return "To hold it the elastic pulls like " + hanging(s.Value) + ", at most " + hanging(s.Bound)
	},
	"placement.tape_line_to_rim_mm": func(s fitting.Standing) string {
		return "Lowest edge " + tape(s.Value).String() + " over the tape line, at least " + tape(s.Bound).String()
	},
	"cloth.takes.length_mm": func(s fitting.Standing) string {
		if math.IsInf(s.Value, 1) {
			return "The strip is too long for this width of cloth"
		}
		return "Takes " + cloth(s.Value).String() + " of the " + cloth(s.Bound).String() + " of cloth"
	},
	"brim.shear_deg": func(s fitting.Standing) string {
		return fmt.Sprintf("Curving pulls the weave %.0f° out of square, at most %.0f°", s.Value, s.Bound)
	},
	"view.ahead_deg": func(s fitting.Standing) string {
		if s.Value >= 90 {
			return "Nothing of the brim straight ahead"
		}
		return fmt.Sprintf("Straight ahead she sees up to %.0f°, at least %.0f°", s.Value, s.Bound)
	},
	"occasion.least_base_mm": func(s fitting.Standing) string {
		return "The event asks for a base of " + tape(s.Bound).String() + " or more"
	},
}

// A proposalCard is one of the three proposals, to compare and to take.
type proposalCard struct {
	Presence, Title, State string // State: why this one is the one worked with
	Here                   bool
	Drawing                template.HTML
	Rows                   []size
	Trades                 []string
}

// proposalCards lays the three proposals side by side.
func proposalCards(f orders.Fitted) []proposalCard {
	here := f.Input.Wish.Presence
	chosen, taken := f.Working.Figures["wish.presence"]
	if taken {
		here = orders.Presences[int(chosen)-1]
	}
	cards, poses := make([]proposalCard, len(f.Proposals)), make([]draw.Pose, len(f.Proposals))
	for i, p := range f.Proposals {
		poses[i] = draw.Pose{Hat: p.Solution, From: draw.Front()}
	}
	drawings := sideBySide(poses, draw.Options{})
	for i, p := range f.Proposals {
		r := p.Solution.Result
		card := proposalCard{
			Presence: string(p.Presence), Title: title(string(p.Presence)), Here: p.Presence == here || here == "" && p.Chosen, Trades: p.Trades,
			Rows: []size{
				{Name: "Across", Amount: tape(p.Summary().Across.Millimetres())},
				{Name: "Base", Amount: tape(r.Base.Diameter.Millimetres())},
				{Name: "Brim", Amount: tape(r.Brim.Width.Millimetres()), Remark: slopeWords(r.Brim.Slope)},
				{Name: "Adds in height", Amount: tape(p.Summary().Height.Millimetres())},
			},
		}
		if drawings != nil {
			card.Drawing = drawings[i].SVG
		}
		if card.Here {
			switch {
			case taken:
				card.State = "taken by you"
			case f.Input.Wish.Presence != "":
				card.State = "as the client wishes"
			default:
				card.State = "taken, since the client has not said"
			}
		}
		cards[i] = card
	}
	return cards
}

// heardOf says the gist of what was worked out to who listens while she tries.
func heardOf(r fitting.Result) string {
	var parts []string
	for _, row := range gistOf(r) {
		parts = append(parts, row.Name+" "+row.Amount.Figure)
	}
	return strings.Join(slices.Compact(parts), ", ")
}
