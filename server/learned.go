package server

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/fitting"
	"perchbook/orders"
)

// learnedView is what the fittings have taught, with its evidence.
type learnedView struct {
	On      bool
	Lessons []lessonView
	Notes   int
}

// A lessonView is one lesson with a chart: each fitting a mark, proposed along and made upward.
type lessonView struct {
	Name, Says string
	Reels      []string // what holds for each reel, where that can differ
	Chart      lessonChart
	Evidence   []evidence
}

type evidence struct{ Href, Number, When, Proposed, Made, Difference string }

// A lessonChart is a square of chartSide, its origin at the lower left.
type lessonChart struct {
	Least, Most string // at both ends of either axis
	Marks       []chartMark
	Lesson      float64 // how far the line of the lesson is from the diagonal, upward
	Side        float64
}

// Top is where the lesson's line ends; the chart shows what of it lies within its frame.
func (c lessonChart) Top() float64 { return c.Side + c.Lesson }

type chartMark struct{ X, Y float64 }

const chartSide = 200.0

func (s *Server) showLearned(c *gin.Context) error {
	list, on, err := s.Store.Fittings(c.Request.Context())
	if err != nil {
		return err
	}
	taught := fitting.Learned{Fittings: orders.Taught(list)}
	if st, err := s.Store.Studio(c.Request.Context()); err != nil {
		return err
	} else if len(st.Materials.Reels) > 0 {
		taught.Reel = st.Materials.Reels[0].Name // as the next hat is worked, unless another is chosen
	}
	lessons, err := fitting.Learn(taught)
	if err != nil {
		return err
	}
	d, err := s.desk(c.Request.Context())
	if err != nil {
		return err
	}
	v := learnedView{On: on, Notes: len(list)}
	for _, l := range lessons {
		v.Lessons = append(v.Lessons, d.lesson(l, list))
	}
	if len(v.Lessons) > 0 {
		v.Lessons[0].Reels = reelsOf(taught)
	}
	s.render(c, http.StatusOK, "learned", s.frame(c, "What was learned"), v)
	return nil
}

// reelsOf says what was learned of the elastic of each reel, in the order of their last use.
func reelsOf(l fitting.Learned) []string {
	var said, seen []string
	for _, n := range l.Fittings {
		if n.Reel == "" || slices.Contains(seen, n.Reel) {
			continue
		}
		seen, l.Reel = append(seen, n.Reel), n.Reel
		if lessons, err := fitting.Learn(l); err == nil && len(lessons) > 0 && lessons[0].Field == "elastic.cut_mm" {
			_, way, _ := strings.Cut(lessons[0].Says, ": ")
			said = append(said, n.Reel+": "+way)
		}
	}
	return said
}

func (d desk) lesson(l fitting.Lesson, notes []orders.FittingNote) lessonView {
	g := fittingFigure(l.Field)
	v := lessonView{Name: g.Name, Says: title(l.Says) + "."}
	var pairs [][2]float64
	for _, n := range notes {
		proposed, made := n.Proposed.Figure(l.Field), n.Real.Figure(l.Field)
		if proposed == nil || made == nil {
			continue
		}
		pairs = append(pairs, [2]float64{*proposed, *made})
		v.Evidence = append(v.Evidence, evidence{
			Href: "/workroom/commissions/" + n.CommissionID + "/fitting", Number: n.CommissionNumber, When: n.Noted.In(d.zone).Format("2 Jan 2006"),
			Proposed: unbroken(g.say(*proposed)), Made: unbroken(g.say(*made)), Difference: difference(g, *made-*proposed),
		})
	}
	v.Chart = chartOf(g, pairs, l)
	return v
}

// unbroken lets a length break into two lines before its inches only.
func unbroken(said string) string {
	if !strings.Contains(said, "(") {
		return said
	}
	return strings.ReplaceAll(strings.ReplaceAll(said, " ", "\u00a0"), "\u00a0(", " (")
}

func fittingFigure(key string) figure {
	for _, g := range fittingFigures {
		if g.Key == key {
			return g
		}
	}
	return figure{Key: key, Name: key}
}

// unit is that in which a figure is kept.
func (g figure) unit() string {
	if g.Measure == inLength {
		return " mm"
	}
	return "°"
}

func difference(g figure, x float64) string {
	if x = math.Round(x); x > 0 {
		return fmt.Sprintf("+%.0f%s", x, g.unit())
	}
	return decimal(x, 0) + g.unit()
}

// chartOf puts the fittings on one scale for both axes, so that what was made as proposed lies on the
// diagonal. Tilts and slopes are drawn by how far they are from zero.
func chartOf(g figure, pairs [][2]float64, l fitting.Lesson) lessonChart {
	least, most := math.Inf(1), math.Inf(-1)
	for i, p := range pairs {
		if g.Measure == inDegrees && g.Key != "hat.forward_deg" {
			p = [2]float64{math.Abs(p[0]), math.Abs(p[1])}
			pairs[i] = p
		}
		least, most = min(least, p[0], p[1]), max(most, p[0], p[1])
	}
	room := max(5, (most-least)/8)
	least, most = least-room, most+room
	scale := chartSide / (most - least)
	c := lessonChart{Side: chartSide, Lesson: l.Correction * scale}
	if len(pairs) == 0 {
		return c
	}
	c.Least, c.Most = decimal(least, 0)+g.unit(), decimal(most, 0)+g.unit()
	for _, p := range pairs {
		c.Marks = append(c.Marks, chartMark{(p[0] - least) * scale, (p[1] - least) * scale})
	}
	return c
}

func (s *Server) switchLearning(c *gin.Context) error {
	on := c.PostForm("learning") == "on"
	if err := s.Store.SetLearning(c.Request.Context(), on); err != nil {
		return err
	}
	if on {
		s.note(c, "Proposals go by what your fittings gave.")
	} else {
		s.note(c, "Proposals go by the engine alone.")
	}
	return onward(c, "/workroom/learned")
}
