package orders

import (
	"context"
	"fmt"
)

// Makers lists who may enter the workroom, by name.
func (s *Store) Makers(ctx context.Context) ([]Maker, error) {
	list, err := many(s.reads(ctx).Order("name"), func(r makerRow) Maker { return Maker(r) })
	if err != nil {
		return nil, fmt.Errorf("list makers: %w", err)
	}
	return list, nil
}

// SaveMaker adds a maker, or gives the one of that id, or else of that name, a new password.
func (s *Store) SaveMaker(ctx context.Context, m Maker) (Maker, error) {
	return together(ctx, s, func(s *Store) (Maker, error) {
		if m.ID == "" {
			m.ID = newID()
			known, err := many(s.reads(ctx).Where("name = ?", m.Name), func(r makerRow) Maker { return Maker(r) })
			if err != nil {
				return m, fmt.Errorf("save maker: %w", err)
			}
			if len(known) > 0 {
				m.ID = known[0].ID
			}
		}
		row := makerRow(m)
		if err := put(s.writes(ctx), &row); err != nil {
			return m, fmt.Errorf("save maker %s: %w", m.ID, err)
		}
		return m, nil
	})
}

// MakerByName finds a maker whatever the case of the letters; ErrNotFound when there is none.
func (s *Store) MakerByName(ctx context.Context, name string) (Maker, error) {
	row, err := one[makerRow](s.reads(ctx).Where("name = ?", name))
	if err != nil {
		return Maker{}, fmt.Errorf("maker: %w", err)
	}
	return Maker(row), nil
}
