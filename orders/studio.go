package orders

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
)

type studioRow struct {
	ID         int
	Name       string
	Place      string
	Reach      string
	Zone       string
	Hours      []Hours  `gorm:"serializer:json"`
	ClosedDays []string `gorm:"serializer:json"`
	Buffer     int
	Notice     int
	Minutes    map[string]int `gorm:"serializer:json"`
	Blocks     []float64      `gorm:"serializer:json"`
	Side       string
	Materials  Materials    `gorm:"serializer:json"`
	Rules      BookingRules `gorm:"serializer:json"`
	Version    int
}

func (studioRow) TableName() string { return "studio" }

func (r studioRow) studio() Studio {
	return Studio{
		Name: r.Name, Place: r.Place, Reach: r.Reach, Zone: r.Zone, Hours: r.Hours, ClosedDays: r.ClosedDays,
		BufferMinutes: r.Buffer, NoticeHours: r.Notice, Minutes: r.Minutes, Blocks: r.Blocks,
		SideByTradition: r.Side, Materials: r.Materials, Rules: r.Rules, Version: r.Version,
	}
}

func rowOfStudio(st Studio) studioRow {
	return studioRow{
		ID: 1, Name: st.Name, Place: st.Place, Reach: st.Reach, Zone: st.Zone,
		Hours: append([]Hours{}, st.Hours...), ClosedDays: append([]string{}, st.ClosedDays...),
		Buffer: st.BufferMinutes, Notice: st.NoticeHours, Minutes: maps.Clone(st.Minutes),
		Blocks: append([]float64{}, st.Blocks...), Side: st.SideByTradition, Materials: st.Materials, Rules: st.Rules, Version: st.Version,
	}
}

// firstStudio stands until the milliner has described her own: its version is 0.
func firstStudio() Studio {
	st := Studio{
		Name: "Our workroom", Zone: "UTC", BufferMinutes: 15, NoticeHours: 24, Rules: BookingRules{MoveHours: 24}, SideByTradition: "right",
		Minutes: map[string]int{Consultation: 60, Fitting: 45, Collection: 15},
	}
	for day := time.Monday; day <= time.Friday; day++ {
		st.Hours = append(st.Hours, Hours{Day: day, Opens: 10 * 60, Shuts: 17 * 60})
	}
	return st
}

// Studio reads the studio's settings; before any were saved, usual ones with version 0.
func (s *Store) Studio(ctx context.Context) (Studio, error) {
	row, err := one[studioRow](s.reads(ctx).Where("id = 1"))
	if errors.Is(err, ErrNotFound) {
		return firstStudio(), nil
	} else if err != nil {
		return Studio{}, fmt.Errorf("studio: %w", err)
	}
	return row.studio(), nil
}

// SaveStudio keeps the studio's settings. A *Problem has as its key what is wrong: name, zone, hours,
// closed_days, buffer, notice, minutes, blocks, side, exceptions, buffers, move_hours, or a key of its materials. Appointments already made stay as they are.
func (s *Store) SaveStudio(ctx context.Context, st Studio) (Studio, error) {
	st.Name = strings.TrimSpace(st.Name)
	if err := st.check(); err != nil {
		return st, err
	}
	return together(ctx, s, func(s *Store) (Studio, error) {
		now, err := s.Studio(ctx)
		if err != nil {
			return st, err
		}
		row := rowOfStudio(st)
		row.Version++
		if err := keepOnly(s.writes(ctx), &row, now.Version, st.Version); err != nil {
			return st, fmt.Errorf("save studio: %w", err)
		}
		if err := s.reelsFollow(ctx, st.Materials); err != nil {
			return st, err
		}
		return row.studio(), nil
	})
}

const day = 24 * 60 // minutes

func (st Studio) check() error {
	checks := []struct {
		ok        bool
		key, text string
	}{
		{st.Name != "", "name", "Give the studio a name; clients see it on every page."},
		{zoneKnown(st.Zone), "zone", "That is no time zone. Write it as region and city, such as Europe/London."},
		{!slices.ContainsFunc(st.Hours, Hours.wrong), "hours", "Opening hours begin before they end, within one day."},
		{!slices.ContainsFunc(st.ClosedDays, noDay), "closed_days", "Write closed days as year, month and day: 2027-01-01."},
		{st.BufferMinutes >= 0 && st.BufferMinutes <= 240, "buffer", "The time kept free after an appointment lies between 0 and 240 minutes."},
		{st.NoticeHours >= 0 && st.NoticeHours <= 24*60, "notice", "The least notice lies between 0 and 1440 hours."},
		{len(st.Minutes) > 0 && !anyLength(st.Minutes), "minutes", "An appointment takes between 5 and 480 minutes."},
		{!slices.ContainsFunc(st.Blocks, noBlock), "blocks", "A block is between 40 and 300 mm across."},
		{st.SideByTradition == "left" || st.SideByTradition == "right", "side", "Choose left or right."},
	}
	for _, c := range checks {
		if !c.ok {
			return &Problem{Key: c.key, Text: c.text}
		}
	}
	if err := st.Rules.check(); err != nil {
		return err
	}
	return st.Materials.check()
}

// check says what is wrong with the rules, if anything is.
func (r BookingRules) check() error {
	for _, e := range r.Exceptions {
		if noDay(e.Day) || (Hours{Opens: e.Opens, Shuts: e.Shuts}).wrong() {
			return &Problem{Key: "exceptions", Text: "Days with hours of their own begin before they end, within one day."}
		}
	}
	for _, m := range r.Buffers {
		if m < 0 || m > 240 {
			return &Problem{Key: "buffers", Text: "The time kept free after an appointment lies between 0 and 240 minutes."}
		}
	}
	if r.MoveHours < 0 || r.MoveHours > 24*60 {
		return &Problem{Key: "move_hours", Text: "Clients may move or cancel until 0 to 1440 hours before."}
	}
	return nil
}

func zoneKnown(name string) bool {
	_, err := time.LoadLocation(name)
	return err == nil && name != "" && name != "Local"
}

func (h Hours) wrong() bool {
	return !(h.Day >= time.Sunday && h.Day <= time.Saturday && h.Opens >= 0 && h.Opens < h.Shuts && h.Shuts <= day)
}

func noDay(date string) bool {
	_, err := time.Parse(time.DateOnly, date)
	return err != nil
}

func anyLength(minutes map[string]int) bool {
	for _, m := range minutes {
		if m < 5 || m > 480 {
			return true
		}
	}
	return false
}

func noBlock(mm float64) bool { return !(mm >= 40 && mm <= 300) }
