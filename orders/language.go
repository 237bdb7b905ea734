package orders

import (
	"context"
	"fmt"
)

// SetLanguage keeps the language in which the client of a draft is spoken to: on her pages, in her chats
// and in letters. The tag is the door's to check. ErrNotFound when there is no such draft.
func (s *Store) SetLanguage(ctx context.Context, draftID, tag string) error {
	return s.Together(ctx, func(s *Store) error {
		d, err := s.Draft(ctx, draftID)
		if err != nil {
			return err
		}
		change := map[string]any{"language": tag}
		if err := s.writes(ctx).Model(&draftRow{}).Where("id = ?", draftID).Updates(change).Error; err != nil {
			return fmt.Errorf("language of draft %s: %w", draftID, err)
		}
		if err := s.writes(ctx).Model(&chatRow{}).Where("draft_id = ?", draftID).Updates(change).Error; err != nil {
			return fmt.Errorf("language of the chats of draft %s: %w", draftID, err)
		}
		if d.CommissionID == "" {
			return nil
		}
		c, err := s.Commission(ctx, d.CommissionID)
		if err != nil {
			return err
		}
		return s.setClientTo(ctx, c.ClientID, change)
	})
}
