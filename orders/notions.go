package orders

import (
	"context"
	"fmt"
	"strings"
	"unicode/utf8"
)

// A Notion is a small thing that a workroom keeps: of it there is enough, or it is to be bought.
type Notion struct {
	ID, Name string
	ToBuy    bool
}

// MostNotions is how many lines are kept.
const MostNotions = 60

type notionRow struct {
	ID, Name string
	ToBuy    bool
}

func (notionRow) TableName() string { return "notions" }

// Notions lists them by name.
func (s *Store) Notions(ctx context.Context) ([]Notion, error) {
	list, err := many(s.reads(ctx).Order("name collate nocase"), func(r notionRow) Notion { return Notion(r) })
	if err != nil {
		return nil, fmt.Errorf("notions: %w", err)
	}
	return list, nil
}

// AddNotion keeps one more, to be bought or not. A *Problem has the key "notion".
func (s *Store) AddNotion(ctx context.Context, name string, toBuy bool) error {
	name = strings.TrimSpace(name)
	if name == "" || utf8.RuneCountInString(name) > longestNotionName {
		return &Problem{Key: "notion", Text: fmt.Sprintf("Name it in at most %d letters.", longestNotionName)}
	}
	return s.Together(ctx, func(s *Store) error {
		var n int64
		if err := s.reads(ctx).Model(&notionRow{}).Count(&n).Error; err != nil {
			return fmt.Errorf("count notions: %w", err)
		}
		if n >= MostNotions {
			return &Problem{Key: "notion", Text: fmt.Sprintf("%d lines are kept. Strike one off first.", MostNotions)}
		}
		err := s.writes(ctx).Create(&notionRow{newID(), name, toBuy}).Error
		if taken(err) {
			return &Problem{Key: "notion", Text: "That stands on the list already."}
		}
		return err
	})
}

// MarkNotions says by id of which there is enough and which are to be bought; others stay, and one that is
// gone meanwhile stays gone.
func (s *Store) MarkNotions(ctx context.Context, toBuy map[string]bool) error {
	return s.Together(ctx, func(s *Store) error {
		for id, buy := range toBuy {
			if err := s.writes(ctx).Model(&notionRow{}).Where("id = ?", id).Updates(map[string]any{"to_buy": buy}).Error; err != nil {
				return fmt.Errorf("notion %s: %w", id, err)
			}
		}
		return nil
	})
}

// StrikeNotion takes one off the list; one that is gone already is no error.
func (s *Store) StrikeNotion(ctx context.Context, id string) error {
	if err := s.writes(ctx).Where("id = ?", id).Delete(&notionRow{}).Error; err != nil {
		return fmt.Errorf("notion %s: %w", id, err)
	}
	return nil
}
