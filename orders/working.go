package orders

import (
	"context"
	"fmt"
	"maps"
	"math"
	"strings"
	"unicode/utf8"

	"perchbook/fitting"
)

type workingRow struct {
	CommissionID string `gorm:"primaryKey"`
	Version      int
	Figures      map[string]float64 `gorm:"serializer:json"`
	Note         string
}

func (workingRow) TableName() string { return "workings" }

// An override is a figure that the milliner may set, with the bounds of what can be meant at all;
// whether it can be made is the engine's to say.
type override struct {
	least, most float64
	set         func(*fitting.Input, float64)
}

// overrides lists them under the contract's names, in the contract's units.
var overrides = map[string]override{
	"hat.base_mm":             {30, 300, func(in *fitting.Input, x float64) { in.Hat.Base = millimetres(x) }},
	"hat.forward_deg":         {-80, 80, func(in *fitting.Input, x float64) { in.Hat.Forward = degrees(x) }},
	"hat.sideways_deg":        {-80, 80, func(in *fitting.Input, x float64) { in.Hat.Sideways = degrees(x) }},
	"hat.brim_width_mm":       {1, 300, func(in *fitting.Input, x float64) { in.Hat.BrimWidth = millimetres(x) }},
	"hat.brim_slope_deg":      {-80, 80, func(in *fitting.Input, x float64) { in.Hat.BrimSlope = degrees(x) }},
	"hat.lip_width_mm":        {0, 80, func(in *fitting.Input, x float64) { in.Hat.LipWidth = millimetres(x) }},
	"hat.lip_slope_deg":       {-120, 120, func(in *fitting.Input, x float64) { in.Hat.LipSlope = degrees(x) }},
	"hat.anchor_from_front":   {0, 1, func(in *fitting.Input, x float64) { in.Hat.AnchorFromFront = &x }},
	"hat.folds":               {1, 4, func(in *fitting.Input, x float64) { n := int(x); in.Hat.Folds = &n }},
	"hat.trim_g":              {0, 500, func(in *fitting.Input, x float64) { m := fitting.Mass(x); in.Hat.Trim = &m }},
	"hair.thickness_mm":       {0, 30, func(in *fitting.Input, x float64) { in.Hair.Thickness = fitting.Length(x) }},
	"elastic.working_stretch": {0, 1, func(in *fitting.Input, x float64) { in.Elastic.WorkingStretch = &x }},
	"hat.layers":              {1, 4, func(in *fitting.Input, x float64) { in.Hat.Layers = LayerRules[int(x)-1] }},
	"hat.anchor":              {1, 3, func(in *fitting.Input, x float64) { in.Hat.Anchor = Anchorings[int(x)-1] }},
	"wish.presence":           {1, 3, func(in *fitting.Input, x float64) { in.Wish.Presence = Presences[int(x)-1] }},
	"elastic.knot_mm":         {0, 100, func(in *fitting.Input, x float64) { in.Elastic.Knot = millimetres(x) }},
}

// Presences in the order in which the milliner's choice of one is kept: as the figure wish.presence,
// from 1.
var Presences = []fitting.Presence{fitting.Quiet, fitting.Balanced, fitting.Bold}

// chosen are the figures that stand for one of a list.
var chosen = map[string]bool{"wish.presence": true, "hat.layers": true, "hat.anchor": true, ReelFigure: true, RollFigure: true}

func degrees(x float64) *fitting.Angle {
	a := fitting.Angle(x)
	return &a
}

// withFigures is the input with the milliner's figures laid over it.
func withFigures(in fitting.Input, set map[string]float64) fitting.Input {
	for name, x := range set {
		if f, known := overrides[name]; known {
			f.set(&in, x)
		}
	}
	return in
}

// longestNote bounds what the milliner may write beside her figures.
const longestNote = 4000

func (w Working) check() error {
	for name, x := range w.Figures {
		f, known := overrides[name]
		switch name {
		case ReelFigure:
			f, known = override{1, MostReels, nil}, true
		case RollFigure:
			f, known = override{1, mostRollNumber, nil}, true
		}
		switch {
		case !known:
			return &Problem{Key: name, Text: "That is no figure of the hat."}
		case !(x >= f.least && x <= f.most):
			return &Problem{Key: name, Text: fmt.Sprintf("This lies between %g and %g.", f.least, f.most)}
		case name == "hat.folds" && x != 1 && x != 2 && x != 4:
			return &Problem{Key: name, Text: "A strip is worked in 1, 2 or 4 layers."}
		case chosen[name] && x != math.Trunc(x):
			return &Problem{Key: name, Text: "Choose one of the list."}
		}
	}
	if utf8.RuneCountInString(w.Note) > longestNote {
		return &Problem{Key: "note", Text: fmt.Sprintf("Keep the note under %d letters.", longestNote)}
	}
	return nil
}

// working reads what the milliner has changed so far; version 0 before anything was.
func (s *Store) working(ctx context.Context, commissionID string) (Working, error) {
	rows, err := many(s.reads(ctx).Where("commission_id = ?", commissionID), func(r workingRow) Working { return Working(r) })
	switch {
	case err != nil:
		return Working{}, fmt.Errorf("working of commission %s: %w", commissionID, err)
	case len(rows) == 0:
		return Working{CommissionID: commissionID, Figures: map[string]float64{}}, nil
	}
	return rows[0], nil
}

// SaveWorking keeps the milliner's figures and note. ErrConflict when the version is old: something
// that the fit depends on has changed too. A *Problem has the figure's name, or "note", as its key.
func (s *Store) SaveWorking(ctx context.Context, w Working) (Working, error) {
	w.Note = strings.TrimSpace(w.Note)
	if err := w.check(); err != nil {
		return w, err
	}
	return together(ctx, s, func(s *Store) (Working, error) {
		if _, err := s.Commission(ctx, w.CommissionID); err != nil {
			return w, err
		}
		now, err := s.working(ctx, w.CommissionID)
		if err != nil {
			return w, err
		}
		if now.Version != w.Version {
			return w, fmt.Errorf("working of commission %s: %w", w.CommissionID, ErrConflict)
		}
		now.Figures, now.Note = w.Figures, w.Note
		return s.putWorking(ctx, now)
	})
}

// putWorking writes a working under its next version.
func (s *Store) putWorking(ctx context.Context, w Working) (Working, error) {
	w.Version++
	row := workingRow(w)
	if row.Figures = maps.Clone(w.Figures); row.Figures == nil {
		row.Figures = map[string]float64{}
	}
	if err := put(s.writes(ctx), &row); err != nil {
		return w, fmt.Errorf("working of commission %s: %w", w.CommissionID, err)
	}
	return Working(row), nil
}

// bumpWorking makes whoever looks at the fit look again before saving or signing: what it rests on
// has changed.
func (s *Store) bumpWorking(ctx context.Context, commissionID string) error {
	w, err := s.working(ctx, commissionID)
	if err == nil {
		_, err = s.putWorking(ctx, w)
	}
	return err
}
