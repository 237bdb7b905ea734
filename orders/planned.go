package orders

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
)

// A Plan is what the latest dates of every commission follow from, on one day.
type Plan struct {
	Pace  Pace
	Days  Calendar
	Today time.Time // the date in the studio's zone, as midnight UTC
}

// Plan reads it: the pace, the studio's weekdays and closed days, and what day it is there.
func (s *Store) Plan(ctx context.Context) (Plan, error) {
	st, err := s.Studio(ctx)
	if err != nil {
		return Plan{}, err
	}
	p, err := s.Pace(ctx)
	return Plan{p, st.Calendar(), s.today(st)}, err
}

// A Planned is a commission with what its latest dates depend on.
type Planned struct {
	Commission
	Posted bool   // she has given an address to post it to
	Paid   bool   // something has come in
	HourID string // of its next appointment; "" when none is to come
}

// Standing is how a commission stands against its latest dates.
func (p Plan) Standing(c Planned) Standing {
	return p.Pace.standing(c.Stage, c.Day, c.Posted, c.Paid, p.Today, p.Days)
}

type plannedRow struct {
	Named  namedRow `gorm:"embedded"`
	Posted bool
	Paid   bool
	HourID string
	Total  int
}

func (r plannedRow) planned() Planned {
	return Planned{r.Named.commission(), r.Posted, r.Paid, r.HourID}
}

// What the latest dates depend on besides the commission itself.
const (
	isPosted = "exists (select 1 from answers where answers.draft_id = commissions.draft_id and question = 'post_address' and value <> '')"
	isPaid   = "coalesce((select sum(amount) from payments where payments.commission_id = commissions.id), 0) > 0"
)

func (s *Store) planned(ctx context.Context) *query {
	coming := "coalesce((select id from appointments a where a.commission_id = commissions.id and a.state <> ? and a.begins > ? order by a.begins limit 1), '') as hour_id"
	return s.named(ctx).Select("commissions.*, clients.name as client_name, drafts.door, "+isPosted+" as posted, "+isPaid+" as paid, "+coming+", count(*) over () as total",
		Cancelled, millis(s.now()))
}

// Planned reads one commission; ErrNotFound when there is none.
func (s *Store) Planned(ctx context.Context, id string) (Planned, error) {
	row, err := one[plannedRow](s.planned(ctx).Where("commissions.id = ?", id))
	if err != nil {
		return Planned{}, fmt.Errorf("plan of commission %s: %w", id, err)
	}
	return row.planned(), nil
}

// unfinished are the stages in which a commission has something before it.
var unfinished = []Stage{Enquiry, Measured, Proposed, Agreed, InHand, InFitting, Finishing, Ready}

// Due lists what is late or has to be done within seven days, and how many there are in all: those
// still to be worn first, the earlier day first; at most so many. It takes one query however many
// commissions there are, since a milestone falls due for all days of wearing up to one.
func (s *Store) Due(ctx context.Context, p Plan, most int) ([]Planned, int, error) {
	var either []string
	var values []any
	limit := p.Today.AddDate(0, 0, soon-1)
	for _, stage := range unfinished {
		for _, paid := range []bool{false, true} {
			m, _ := next(stage, paid)
			either = append(either, "(stage = ? and ("+isPaid+") = ? and day <= case when "+isPosted+" then ? else ? end)")
			values = append(values, stage, paid, p.lastDay(m, true, limit), p.lastDay(m, false, limit))
			if stage != Agreed {
				either[len(either)-1] = "(stage = ? and day <= case when " + isPosted + " then ? else ? end)"
				values = slices.Delete(values, len(values)-3, len(values)-2)
				break
			}
		}
	}
	q := s.planned(ctx).Where("day <> ?", NotFixed).Where(strings.Join(either, " or "), values...).
		Order("day < '" + p.Today.Format(dayLayout) + "', day, commissions.year, commissions.running").Limit(most)
	return counted(q, "what is due")
}

// counted reads planned rows, and how many there would be without a limit.
func counted(q *query, what string) ([]Planned, int, error) {
	total := 0
	list, err := many(q, func(r plannedRow) Planned { total = r.Total; return r.planned() })
	if err != nil {
		return nil, 0, fmt.Errorf("%s: %w", what, err)
	}
	return list, total, nil
}

// farAhead is how many days ahead a day of wearing is looked for, more than all lead times together.
const farAhead = 3000

// lastDay is the latest day of wearing for which a milestone falls on limit or before: the milestones
// move with the day, so it is found by halving.
func (p Plan) lastDay(m Milestone, posted bool, limit time.Time) string {
	low, high := 0, farAhead // low is due: nothing is later than the day itself
	start := p.Today.AddDate(0, 0, -1)
	for high-low > 1 {
		mid := (low + high) / 2
		if p.Pace.latest(start.AddDate(0, 0, mid), posted, p.Days).By(m).After(limit) {
			high = mid
		} else {
			low = mid
		}
	}
	return start.AddDate(0, 0, low).Format(dayLayout)
}

// In lists commissions at one stage, the earlier day first and those without one last, at most so many,
// and how many there are in all.
func (s *Store) In(ctx context.Context, stage Stage, most int) ([]Planned, int, error) {
	return counted(s.planned(ctx).Where("stage = ?", stage).Order("day, commissions.year, commissions.running").Limit(most), "commissions "+string(stage))
}

// alikeRow is how many commissions share what their hours depend on.
type alikeRow struct {
	Stage  Stage
	Day    string
	Posted bool
	N      int
}

// tasks are what all open commissions with a day to come want of the bench.
func (s *Store) tasks(ctx context.Context, p Plan) ([]task, error) {
	q := s.reads(ctx).Table("commissions").Select("stage, day, "+isPosted+" as posted, count(*) as n").
		Where("stage in ? and day <> ? and day >= ?", unfinished, NotFixed, p.Today.Format(dayLayout)).Group("1, 2, 3")
	rows, err := many(q, func(r alikeRow) alikeRow { return r })
	if err != nil {
		return nil, fmt.Errorf("hours of the commissions: %w", err)
	}
	var list []task
	for _, r := range rows {
		if day, err := time.Parse(dayLayout, r.Day); err == nil && p.Pace.left(r.Stage) > 0 {
			list = append(list, p.Pace.taskOf(r.Stage, p.Pace.latest(day, r.Posted, p.Days), r.N, p.Today))
		}
	}
	return list, nil
}

// Verdict is the truth about a commission that is asked for. Nothing is said before somebody has said
// how long things take in this workroom.
func (s *Store) Verdict(ctx context.Context, p Plan, c Planned) (Verdict, error) {
	st := p.Standing(c)
	if p.Pace.Version == 0 || st.Next != ToAgree {
		return NoVerdict, nil
	}
	all, err := s.tasks(ctx, p)
	if err != nil {
		return NoVerdict, err
	}
	agreed := slices.DeleteFunc(all, func(t task) bool { return !t.agreed })
	return p.Pace.verdict(p.Days, st.Latest, p.Today, agreed), nil
}

// Weeks are n weeks at the bench, the first so many after this one, and the milestones that fall into
// them for open commissions that still have to meet them, in the order of the days; into the first week
// also those that have been missed. They are those of at most so many commissions, the earlier day of
// wearing first.
func (s *Store) Weeks(ctx context.Context, p Plan, first, n, most int) ([]Week, []Mark, error) {
	tasks, err := s.tasks(ctx, p)
	if err != nil {
		return nil, nil, err
	}
	start := Monday(p.Today).AddDate(0, 0, 7*first)
	last := start.AddDate(0, 0, 7*n-1)
	q := s.planned(ctx).Where("stage in ? and day <> ? and day >= ? and day <= ?", unfinished, NotFixed,
		later(p.Today, start).Format(dayLayout), p.lastDay(ToAgree, true, last)).
		Order("day, commissions.year, commissions.running").Limit(most)
	list, _, err := counted(q, "marks of the weeks")
	if err != nil {
		return nil, nil, err
	}
	marks := p.marks(list)
	if first > 0 {
		marks = slices.DeleteFunc(marks, func(m Mark) bool { return m.By.Before(start) })
	}
	marks = slices.DeleteFunc(marks, func(m Mark) bool { return m.By.After(last) })
	return p.Pace.weeks(p.Days, p.Today, first+n, tasks)[first:], marks, nil
}

// A Mark is a milestone that a commission still has to reach, or the day it is worn.
type Mark struct {
	Planned
	Milestone Milestone // "" for the day of wearing
	By        time.Time
	Late      bool
}

func (p Plan) marks(list []Planned) []Mark {
	var marks []Mark
	for _, c := range list {
		st := p.Standing(c)
		for _, m := range Milestones[slices.Index(Milestones, st.Next):] {
			by := st.Latest.By(m)
			marks = append(marks, Mark{c, m, by, by.Before(p.Today)})
		}
		marks = append(marks, Mark{c, "", st.Worn, false})
	}
	slices.SortStableFunc(marks, func(a, b Mark) int { return a.By.Compare(b.By) })
	return marks
}
