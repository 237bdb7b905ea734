package orders

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"
)

// A Pace is how long the parts of a hat take in this workroom, and how many hours it has.
type Pace struct {
	DepositDays   int // from agreeing until the deposit is there; days of the calendar
	ClothDays     int // from ordering cloth until it is there; days of the calendar
	MakingDays    int // at the bench until the fitting; worked days
	DryingDays    int // that one part dries; days of the calendar
	FinishingDays int // at the bench after the fitting; worked days
	PostingDays   int // in the post; days of the calendar
	SpareDays     int // between hand-over and the day it is worn, for what goes wrong

	WeekMinutes int           // at the bench in a full week; 0: not said, so that no week is ever called full
	Left        map[Stage]int // minutes that a hat still needs once it stands there; see Paced

	RushFee  Amount   // asked for a hat between others; 0: none is named
	Currency Currency // of the fee

	Version int // 0: nobody has said, and the figures are usual ones
}

// LeftKey names the hours left at a stage among the fields of a pace.
func LeftKey(stage Stage) string { return "left-" + strings.ReplaceAll(string(stage), " ", "-") }

// Paced are the stages for which Pace.Left says what is still to be done: Agreed stands for a whole hat.
var Paced = []Stage{Agreed, InHand, InFitting, Finishing}

// usualPace is common practice where that speaks (six weeks and more in all, materials up to three, a
// day or so of drying between parts); hours and spare days are modelling choices.
func usualPace() Pace {
	return Pace{
		DepositDays: 7, ClothDays: 21, MakingDays: 4, DryingDays: 1, FinishingDays: 2, PostingDays: 5, SpareDays: 3,
		WeekMinutes: 20 * 60, Currency: "EUR",
		Left: map[Stage]int{Agreed: 8 * 60, InHand: 5 * 60, InFitting: 2 * 60, Finishing: 60},
	}
}

// left is what a commission at a stage still needs at the bench, in minutes.
func (p Pace) left(stage Stage) int {
	switch stage {
	case Enquiry, Measured, Proposed:
		stage = Agreed
	}
	return p.Left[stage]
}

type paceRow struct {
	ID      int
	Body    string
	Version int
}

func (paceRow) TableName() string { return "pace" }

// Pace reads how long things take; before any were saved, usual ones with version 0.
func (s *Store) Pace(ctx context.Context) (Pace, error) {
	row, err := one[paceRow](s.reads(ctx).Where("id = 1"))
	if errors.Is(err, ErrNotFound) {
		return usualPace(), nil
	}
	var p Pace
	if err == nil {
		err = json.Unmarshal([]byte(row.Body), &p)
	}
	if err != nil {
		return Pace{}, fmt.Errorf("pace: %w", err)
	}
	p.Version = row.Version
	return p, nil
}

// SavePace keeps it; ErrConflict when p.Version is old. A *Problem has as its key what is wrong:
// deposit_days, cloth_days, making_days, drying_days, finishing_days, posting_days, spare_days, week,
// rush_fee, currency, or left with the stage: "left-in-hand".
func (s *Store) SavePace(ctx context.Context, p Pace) (Pace, error) {
	if err := p.check(); err != nil {
		return p, err
	}
	return together(ctx, s, func(s *Store) (Pace, error) {
		now, err := s.Pace(ctx)
		if err != nil {
			return p, err
		}
		body, err := json.Marshal(p)
		if err != nil {
			return p, err
		}
		row := paceRow{1, string(body), p.Version + 1}
		if err := keepOnly(s.writes(ctx), &row, now.Version, p.Version); err != nil {
			return p, fmt.Errorf("save pace: %w", err)
		}
		p.Version++
		return p, nil
	})
}

// Bounds of what is meant by a pace, for whoever reads a form.
const (
	MostLeadDays    = 120
	MostWeekMinutes = 7 * 24 * 60
	MostHatMinutes  = 200 * 60
)

func (p Pace) check() error {
	for _, c := range []struct {
		key  string
		days int
	}{
		{"deposit_days", p.DepositDays}, {"cloth_days", p.ClothDays}, {"making_days", p.MakingDays}, {"drying_days", p.DryingDays},
		{"finishing_days", p.FinishingDays}, {"posting_days", p.PostingDays}, {"spare_days", p.SpareDays},
	} {
		if c.days < 0 || c.days > MostLeadDays {
			return &Problem{Key: c.key, Text: fmt.Sprintf("Write whole days, from 0 to %d.", MostLeadDays)}
		}
	}
	if p.WeekMinutes < 0 || p.WeekMinutes > MostWeekMinutes {
		return &Problem{Key: "week", Text: "A week has between 0 and 168 hours."}
	}
	before := MostHatMinutes
	for _, stage := range Paced {
		left := p.Left[stage]
		if left < 0 || left > MostHatMinutes {
			return &Problem{Key: LeftKey(stage), Text: fmt.Sprintf("Write hours from 0 to %d.", MostHatMinutes/60)}
		}
		if left > before {
			return &Problem{Key: LeftKey(stage), Text: "A hat that is further on can’t need more hours than before."}
		}
		before = left
	}
	switch {
	case !p.RushFee.possible():
		return &Problem{Key: "rush_fee", Text: "The rush fee is nothing or more, and a sum that a hat may cost."}
	case !p.Currency.Known():
		return &Problem{Key: "currency", Text: "Write the currency as its three letters in ISO 4217, such as EUR or GBP."}
	}
	return nil
}

// dayThere is the date in the studio's zone as it is kept: 2027-06-12.
func (s *Store) dayThere(ctx context.Context) (string, error) {
	st, err := s.Studio(ctx)
	return s.today(st).Format(dayLayout), err
}

// today is the date in the studio's zone.
func (s *Store) today(st Studio) time.Time {
	zone, err := time.LoadLocation(st.Zone)
	if err != nil {
		zone = time.UTC
	}
	return dayOf(s.now(), zone)
}
