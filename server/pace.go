package server

import (
	"errors"
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// paceView is how long things take in the workroom, as the milliner writes it.
type paceView struct {
	Problems          []mend
	Version           int
	Days, Hours, Fees []field
}

// paceDays are the lead times, in the order in which they come, with where each is kept.
var paceDays = []struct {
	field
	of func(*orders.Pace) *int
}{
	{field{Key: "deposit_days", Label: "From yes to deposit", Hint: "Days of the calendar that you give a client."}, func(p *orders.Pace) *int { return &p.DepositDays }},
	{field{Key: "cloth_days", Label: "Cloth and notions", Hint: "Days of the calendar from order to delivery; up to three weeks by common practice."}, func(p *orders.Pace) *int { return &p.ClothDays }},
	{field{Key: "making_days", Label: "Making, up to the fitting", Hint: "Days that you work, at your usual gait."}, func(p *orders.Pace) *int { return &p.MakingDays }},
	{field{Key: "drying_days", Label: "Drying, each time", Hint: "Days of the calendar; counted for base, for brim, and once after the fitting."}, func(p *orders.Pace) *int { return &p.DryingDays }},
	{field{Key: "finishing_days", Label: "Finishing, after the fitting", Hint: "Days that you work."}, func(p *orders.Pace) *int { return &p.FinishingDays }},
	{field{Key: "posting_days", Label: "In the post", Hint: "Days of the calendar, for hats that are sent."}, func(p *orders.Pace) *int { return &p.PostingDays }},
	{field{Key: "spare_days", Label: "To spare before the day", Hint: "Days of the calendar, for what goes wrong."}, func(p *orders.Pace) *int { return &p.SpareDays }},
}

// paceHours are the fields of bench hours: the week's, and what a hat still needs.
var paceHours = []field{
	{Key: "week", Label: "Hours at the bench in a week", Hint: "Without appointments. Empty: no week is called full."},
	{Key: orders.LeftKey(orders.Agreed), Label: "A whole hat", Hint: "Hours at the bench."},
	{Key: orders.LeftKey(orders.InHand), Label: "Left once it is in hand", Hint: "Hours, for a hat that is begun."},
	{Key: orders.LeftKey(orders.InFitting), Label: "Left at the fitting", Hint: "Hours."},
	{Key: orders.LeftKey(orders.Finishing), Label: "Left in finishing", Hint: "Hours."},
}

func paceKeys() []string {
	keys := []string{"rush_fee"}
	for _, d := range paceDays {
		keys = append(keys, d.Key)
	}
	for _, f := range paceHours {
		keys = append(keys, f.Key)
	}
	return keys
}

func (s *Server) showPace(c *gin.Context) error {
	p, err := s.Store.Pace(c.Request.Context())
	if err != nil {
		return err
	}
	return s.pacePage(c, http.StatusOK, writtenPace(p), p.Version, nil)
}

// writtenPace is the pace as it would be typed.
func writtenPace(p orders.Pace) map[string]string {
	typed := map[string]string{"week": typedHours(p.WeekMinutes)}
	if p.RushFee != 0 {
		typed["rush_fee"] = p.Currency.Plain(p.RushFee)
	}
	for _, d := range paceDays {
		typed[d.Key] = strconv.Itoa(*d.of(&p))
	}
	for _, stage := range orders.Paced {
		typed[orders.LeftKey(stage)] = typedHours(p.Left[stage])
	}
	return typed
}

func typedHours(minutes int) string {
	if minutes%60%3 == 0 { // what decimals can say
		return shortest(float64(minutes)/60, 2)
	}
	return fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
}

// readBenchHours reads "7.5", "7,5" or "7:30" as minutes.
func readBenchHours(typed string, most int) (int, string) {
	help := fmt.Sprintf("Write hours from 0 to %d, such as 7.5 or 7:30.", most/60)
	if typed == "" {
		return 0, ""
	}
	whole, part, clock := strings.Cut(typed, ":")
	x, ok := plainNumber(whole)
	if clock {
		m, fine := plainNumber(part)
		ok = ok && fine && len(part) == 2 && m >= 0 && m < 60 && x == math.Trunc(x)
		x += m / 60
	}
	if minutes := math.Round(60 * x); ok && minutes >= 0 && minutes <= float64(most) {
		return int(minutes), ""
	}
	return 0, help
}

func readPace(typed map[string]string, currency orders.Currency) (orders.Pace, map[string]string) {
	p := orders.Pace{Left: map[orders.Stage]int{}, Currency: currency}
	f := moneyForm{typed, currency, map[string]string{}}
	for _, d := range paceDays {
		n, problem := readWhole(typed[d.Key], 0, orders.MostLeadDays, "days")
		*d.of(&p) = n
		f.note(d.Key, named(d.Label, problem))
	}
	for _, h := range paceHours {
		most := orders.MostHatMinutes
		if h.Key == "week" {
			most = orders.MostWeekMinutes
		}
		n, problem := readBenchHours(typed[h.Key], most)
		if h.Key == "week" {
			p.WeekMinutes = n
		}
		for _, stage := range orders.Paced {
			if h.Key == orders.LeftKey(stage) {
				p.Left[stage] = n
			}
		}
		f.note(h.Key, named(h.Label, problem))
	}
	p.RushFee = f.amount("rush_fee")
	return p, f.problems
}

// pacePage shows the form; problems stand by the field's key.
func (s *Server) pacePage(c *gin.Context, status int, typed map[string]string, version int, problems map[string]string) error {
	t, err := s.Store.Terms(c.Request.Context())
	if err != nil {
		return err
	}
	v := paceView{Version: version, Hours: filled(paceHours, typed, problems), Fees: filled([]field{{
		Key: "rush_fee", Label: "Rush fee, " + string(t.Currency),
		Hint: "Named to a client whose day is near or whose weeks are full. Empty: none is named. It is put into no quotation by itself.",
	}}, typed, problems)}
	for _, d := range paceDays {
		v.Days = append(v.Days, fill(d.field, typed, problems))
	}
	v.Problems = append(append(mends(v.Days...), mends(v.Hours...)...), mends(v.Fees...)...)
	name := "Lead times and hours"
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "pace", s.frame(c, name), v)
	return nil
}

func (s *Server) savePace(c *gin.Context) error {
	ctx, typed := c.Request.Context(), map[string]string{}
	for _, key := range paceKeys() {
		typed[key] = tidy(c.PostForm(key))
	}
	version, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		version = -1 // no version is an old version
	}
	t, err := s.Store.Terms(ctx)
	if err != nil {
		return err
	}
	p, problems := readPace(typed, t.Currency)
	if len(problems) > 0 {
		return s.pacePage(c, http.StatusUnprocessableEntity, typed, version, problems)
	}
	p.Version = version
	_, err = s.Store.SavePace(ctx, p)
	if problem, ok := asProblem(err); ok {
		key := problem.Key
		if key == "currency" {
			key = "rush_fee"
		}
		return s.pacePage(c, http.StatusUnprocessableEntity, typed, version, map[string]string{key: problem.Text})
	}
	if errors.Is(err, orders.ErrConflict) {
		now, err := s.Store.Pace(ctx)
		if err != nil {
			return err
		}
		return s.pacePage(c, http.StatusConflict, typed, now.Version, map[string]string{paceDays[0].Key: changedStudio})
	}
	if err != nil {
		return err
	}
	s.note(c, "Lead times and hours are kept. Every latest date follows from them.")
	return onward(c, "/workroom/studio/pace")
}
