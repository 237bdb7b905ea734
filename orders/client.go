package orders

import (
	"context"
	"fmt"
)

// Client reads who a hat is for; ErrNotFound when there is none.
func (s *Store) Client(ctx context.Context, id string) (Client, error) {
	row, err := one[clientRow](s.reads(ctx).Where("id = ?", id))
	if err != nil {
		return Client{}, fmt.Errorf("client %s: %w", id, err)
	}
	return row.client(), nil
}

// setClient keeps name and reach as her answers give them.
func (s *Store) setClient(ctx context.Context, id string, a Answers) error {
	c, err := s.Client(ctx, id)
	if err != nil {
		return err
	}
	row := clientRow{ID: id, Name: a["name"].Value, Reach: a["reach"].Value, Version: c.Version + 1, Zone: c.Zone, Prefers: c.Prefers, Owed: millis(c.Owed), Language: c.Language}
	if row.Name == c.Name && row.Reach == c.Reach {
		return nil
	}
	if err := replace(s.writes(ctx), &row, id, c.Version); err != nil {
		return fmt.Errorf("change client %s: %w", id, err)
	}
	if row.Reach != c.Reach { // the new address may take what the old one did not
		return s.writes(ctx).Model(&chatRow{}).Where("channel = ? and address = ?", ChannelMail, id).Update("shut", 0).Error
	}
	return nil
}

// SetZone keeps the zone in which a client reads hours, "" for the studio's. A *Problem with key
// "zone" when there is no such zone.
func (s *Store) SetZone(ctx context.Context, clientID, zone string) error {
	if zone != "" && !zoneKnown(zone) {
		return NewProblem("zone", "That is no time zone known here. Write region and city, such as Europe/London, or leave it empty for the studio’s.")
	}
	return s.setClientTo(ctx, clientID, map[string]any{"zone": zone})
}
