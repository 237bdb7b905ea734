package orders

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"perchbook/fitting"
)

// A Roll is a length of cloth, or of an elastic, from which hats are cut until it is finished.
type Roll struct {
	Number     int // names it for good, from 1
	Reel       int // the reel whose elastic this is the length of; 0 for cloth
	Made       RollCloth
	PutAway    time.Time // zero while it is at hand
	Version    int       // of what is said of it, lengths apart
	Left, Free int       // mm that lie there, and that no fit sheet has reserved; see Entry
}

// A RollCloth is what a roll is of. What is nought or empty has not been said.
type RollCloth struct {
	Colour                                   string  // as she calls it; of an elastic the reel's name
	Swatch                                   string  `json:",omitempty"` // the colour as it is drawn, "#8a9a5b"
	Width                                    float64 `json:",omitempty"` // mm, from selvedge to selvedge
	Weight                                   float64 `json:",omitempty"` // g/m², as the shop gives it
	SwatchWidth, SwatchLength, SwatchWeighed float64 `json:",omitempty"` // a piece of it, mm and g, in place of Weight
	BiasMarked, BiasPulled                   float64 `json:",omitempty"` // a length marked on the bias, and the same pulled to the first ripple, mm
	Note                                     string  `json:",omitempty"`
}

// Bounds of what can be meant by a roll, for whoever reads a form.
const (
	MostRolls                           = 300       // at hand; more can be put away
	MostRollLength                      = 1_000_000 // mm
	LeastSwatch, MostSwatch             = 20.0, 1000.0
	LeastSwatchWeighed                  = 0.1    // g; lighter is no more than the scales' error
	MostSwatchWeighed                   = 1000.0 // g
	LeastBiasMarked, MostBiasMarked     = 50.0, 1000.0
	longestColour, longestNoteOfRoll    = 60, 500
	mostRollNumber                      = 1_000_000
	longestEntryNote, longestNotionName = 200, 60
)

// Density of the cloth in g/m², of the swatch where one was weighed; 0 when nobody has said.
func (r RollCloth) Density() float64 {
	if r.SwatchWeighed > 0 {
		return r.SwatchWeighed / (r.SwatchWidth * r.SwatchLength) * 1e6
	}
	return r.Weight
}

// BiasStretch is how far it goes on the bias, as a part of the length; 0 when nobody has tried.
func (r RollCloth) BiasStretch() float64 {
	if r.BiasMarked == 0 {
		return 0
	}
	return r.BiasPulled/r.BiasMarked - 1
}

// into tells the engine that a hat is cut from this cloth. What is not said of it stays as it is usual here.
func (r RollCloth) into(in *fitting.Input) {
	if r.Width > 0 {
		in.Cloth.Width = millimetres(r.Width)
	}
	if d := r.Density(); d > 0 {
		in.Cloth.Density = &d
	}
	if b := r.BiasStretch(); b > 0 {
		in.Cloth.Bias = &b
	}
}

var swatchShape = regexp.MustCompile(`^(#[0-9a-f]{6})?$`)

// check gives a *Problem with the key of what is wrong: colour, swatch, width, weight, swatch_width,
// swatch_length, swatch_weighed, bias_marked, bias_pulled or note.
func (r RollCloth) check() error {
	weighed := r.SwatchWidth != 0 || r.SwatchLength != 0 || r.SwatchWeighed != 0
	tried := r.BiasMarked != 0 || r.BiasPulled != 0
	in := func(x, least, most float64) bool { return x >= least && x <= most }
	for _, c := range []struct {
		ok        bool
		key, text string
	}{
		{r.Colour != "" && utf8.RuneCountInString(r.Colour) <= longestColour, "colour", fmt.Sprintf("Say its colour or name, in at most %d letters.", longestColour)},
		{swatchShape.MatchString(r.Swatch), "swatch", "Choose a colour for the swatch."},
		{r.Width == 0 || in(r.Width, LeastClothWidth, MostClothWidth), "width", fmt.Sprintf("Cloth is between %g and %g cm wide.", LeastClothWidth/10, MostClothWidth/10)},
		{r.Weight == 0 || !weighed, "weight", "Write either its weight or the swatch that you weighed, not both."},
		{r.Weight == 0 || in(r.Weight, LeastDensity, MostDensity), "weight", fmt.Sprintf("Cloth weighs between %g and %g g/m².", LeastDensity, MostDensity)},
		{!weighed || in(r.SwatchWidth, LeastSwatch, MostSwatch), "swatch_width", "Say how wide the swatch is that you weighed, between 2 and 100 cm."},
		{!weighed || in(r.SwatchLength, LeastSwatch, MostSwatch), "swatch_length", "Say how long the swatch is that you weighed, between 2 and 100 cm."},
		{!weighed || in(r.SwatchWeighed, LeastSwatchWeighed, MostSwatchWeighed), "swatch_weighed", "Say what the swatch weighs, in g and at least 0.1 g."},
		{!weighed || in(r.Density(), LeastDensity, MostDensity), "swatch_weighed", fmt.Sprintf("By this swatch the cloth would weigh %.0f g/m²; cloth weighs between %g and %g. Look at its sides and at the scales again.", r.Density(), LeastDensity, MostDensity)},
		{!tried || in(r.BiasMarked, LeastBiasMarked, MostBiasMarked), "bias_marked", "Mark between 5 and 100 cm on the bias."},
		{!tried || in(r.BiasStretch(), LeastBias, MostBias), "bias_pulled", fmt.Sprintf("Pulled to the first ripple it is longer than marked, by %g to %g %%.", 100*LeastBias, 100*MostBias)},
		{utf8.RuneCountInString(r.Note) <= longestNoteOfRoll, "note", fmt.Sprintf("Keep the note under %d letters.", longestNoteOfRoll)},
	} {
		if !c.ok {
			return &Problem{Key: c.key, Text: c.text}
		}
	}
	return nil
}

func (r RollCloth) tidied() RollCloth {
	r.Colour, r.Note, r.Swatch = strings.TrimSpace(r.Colour), strings.TrimSpace(r.Note), strings.ToLower(r.Swatch)
	return r
}

// Named is how a roll is spoken of: "Roll 3, Sage green"; an elastic by its reel's name.
func (r Roll) Named() string {
	if r.Reel > 0 {
		return "“" + r.Made.Colour + "”"
	}
	return fmt.Sprintf("Roll %d, %s", r.Number, r.Made.Colour)
}

type rollRow struct {
	Number  int `gorm:"primaryKey"`
	Reel    *int
	Body    RollCloth `gorm:"serializer:json"`
	PutAway int64
	Version int
	Added   int64
}

func (rollRow) TableName() string { return "rolls" }

// stockRow is a roll with the sums of its newest entry.
type stockRow struct {
	Row                  rollRow `gorm:"embedded"`
	LeftAfter, FreeAfter int
}

func (r stockRow) roll() Roll {
	roll := Roll{Number: r.Row.Number, Made: r.Row.Body, PutAway: moment(r.Row.PutAway), Version: r.Row.Version, Left: r.LeftAfter, Free: r.FreeAfter}
	if r.Row.Reel != nil {
		roll.Reel = *r.Row.Reel
	}
	return roll
}

// newestEntry is the last one of a roll, which carries its sums.
const newestEntry = "left join roll_entries newest on newest.running = (select max(running) from roll_entries where roll = rolls.number)"

func (s *Store) stock(ctx context.Context) *query {
	return s.reads(ctx).Table("rolls").Joins(newestEntry).
		Select("rolls.*, coalesce(newest.left_after, 0) as left_after, coalesce(newest.free_after, 0) as free_after")
}

// Roll reads one; ErrNotFound when there is none.
func (s *Store) Roll(ctx context.Context, number int) (Roll, error) {
	row, err := one[stockRow](s.stock(ctx).Where("rolls.number = ?", number))
	if err != nil {
		return Roll{}, fmt.Errorf("roll %d: %w", number, err)
	}
	return row.roll(), nil
}

// Rolls lists at most so many rolls of cloth from that number on, those at hand or those put away, and the
// number at which the next page begins; 0 on the last.
func (s *Store) Rolls(ctx context.Context, away bool, from, most int) (list []Roll, next int, err error) {
	list, err = many(s.stock(ctx).Where("reel is null and (put_away > 0) = ? and rolls.number >= ?", away, from).Order("rolls.number").Limit(most+1), stockRow.roll)
	if err != nil {
		return nil, 0, fmt.Errorf("rolls: %w", err)
	}
	if len(list) > most {
		return list[:most], list[most].Number, nil
	}
	return list, 0, nil
}

// Elastics lists the lengths of elastic that are kept, by the reel's number.
func (s *Store) Elastics(ctx context.Context) ([]Roll, error) {
	list, err := many(s.stock(ctx).Where("reel is not null and put_away = 0").Order("reel"), stockRow.roll)
	if err != nil {
		return nil, fmt.Errorf("lengths of elastic: %w", err)
	}
	return list, nil
}

// rollsFor are the rolls of cloth that a commission's hat may be cut from: those at hand, and those that it
// was ever signed for or is to be cut from now.
func (s *Store) rollsFor(ctx context.Context, w Working) ([]Roll, error) {
	list, err := many(s.stock(ctx).Where(`reel is null and (put_away = 0 or rolls.number = ? or rolls.number in
		(select json_extract(figures, '$."cloth.roll"') from fit_sheets where commission_id = ?))`, int(w.Figures[RollFigure]), w.CommissionID).Order("rolls.number"), stockRow.roll)
	if err != nil {
		return nil, fmt.Errorf("rolls for commission %s: %w", w.CommissionID, err)
	}
	return list, nil
}

// RollFigure is the figure by which a hat's roll of cloth is kept: its number.
const RollFigure = "cloth.roll"

// roll finds one by its number.
func roll(list []Roll, number float64) (Roll, bool) {
	i := slices.IndexFunc(list, func(r Roll) bool { return float64(r.Number) == number })
	if i < 0 {
		return Roll{}, false
	}
	return list[i], true
}

// AddRoll keeps a new roll of cloth with the length that lies there, in mm; 0 when it is still to be bought.
// A *Problem has "length" as its key, or one of the roll's fields.
func (s *Store) AddRoll(ctx context.Context, made RollCloth, length int, by string) (Roll, error) {
	made = made.tidied()
	if err := made.check(); err != nil {
		return Roll{}, err
	}
	return together(ctx, s, func(s *Store) (Roll, error) {
		var n int64
		if err := s.reads(ctx).Model(&rollRow{}).Where("put_away = 0").Count(&n).Error; err != nil {
			return Roll{}, fmt.Errorf("count the rolls: %w", err)
		}
		if n >= MostRolls {
			return Roll{}, &Problem{Key: "colour", Text: fmt.Sprintf("%d rolls are at hand. Put one away that is finished.", MostRolls)}
		}
		return s.addRoll(ctx, rollRow{Body: made}, length, by)
	})
}

// AddElastic begins to keep the length of a reel that the studio's settings describe. ErrNotFound when there
// is no such reel; a *Problem has "length" as its key.
func (s *Store) AddElastic(ctx context.Context, reel, length int, by string) (Roll, error) {
	return together(ctx, s, func(s *Store) (Roll, error) {
		st, err := s.Studio(ctx)
		if err != nil {
			return Roll{}, err
		}
		r, there := st.Materials.Reel(float64(reel))
		if !there {
			return Roll{}, fmt.Errorf("reel %d: %w", reel, ErrNotFound)
		}
		return s.addRoll(ctx, rollRow{Reel: &reel, Body: RollCloth{Colour: r.Name}}, length, by)
	})
}

func (s *Store) addRoll(ctx context.Context, row rollRow, length int, by string) (Roll, error) {
	row.Version, row.Added = 1, millis(s.now())
	if err := s.reads(ctx).Model(&rollRow{}).Select("coalesce(max(number), 0) + 1").Scan(&row.Number).Error; err != nil {
		return Roll{}, fmt.Errorf("number of a new roll: %w", err)
	}
	err := s.writes(ctx).Create(&row).Error
	if taken(err) {
		return Roll{}, fmt.Errorf("length of reel %d: %w", *row.Reel, ErrConflict)
	} else if err != nil {
		return Roll{}, fmt.Errorf("add roll: %w", err)
	}
	if length != 0 {
		if err := s.Buy(ctx, row.Number, newID(), length, "", by); err != nil {
			return Roll{}, err
		}
	}
	return s.Roll(ctx, row.Number)
}

// SaveRoll changes what is said of a roll of cloth, and no length. ErrConflict when its version is old; a
// *Problem has one of the roll's fields as its key.
func (s *Store) SaveRoll(ctx context.Context, number, version int, made RollCloth) error {
	made = made.tidied()
	if err := made.check(); err != nil {
		return err
	}
	return s.editRoll(ctx, number, version, func(_ *Store, r *rollRow) error {
		if r.Reel != nil {
			return ErrNotFound
		}
		r.Body = made
		return nil
	})
}

func (s *Store) editRoll(ctx context.Context, number, version int, change func(*Store, *rollRow) error) error {
	return s.Together(ctx, func(s *Store) error {
		row, err := one[rollRow](s.reads(ctx).Where("number = ?", number))
		if err != nil {
			return fmt.Errorf("roll %d: %w", number, err)
		}
		if row.Version != version {
			return fmt.Errorf("roll %d: %w", number, ErrConflict)
		}
		if err := change(s, &row); err != nil {
			return fmt.Errorf("roll %d: %w", number, err)
		}
		row.Version++
		if err := s.writes(ctx).Select("*").Save(&row).Error; err != nil {
			return fmt.Errorf("change roll %d: %w", number, err)
		}
		return nil
	})
}
