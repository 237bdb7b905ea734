package orders

import (
	"context"
	"fmt"
	"time"
)

// A HeldHour is an hour kept for a client who has not decided yet, as the milliner sees it.
type HeldHour struct {
	Hold
	CommissionNumber, ClientName string
}

// A Turn is the place of one commission among those who wait, and the hour that it is offered now.
type Turn struct {
	Wait
	CommissionID, CommissionNumber, ClientName string
	Offer                                      *Hold // nil while nothing is offered to it
}

type heldRow struct {
	Row           holdRow `gorm:"embedded"`
	Year, Running int
	ClientName    string
}

func (r heldRow) held() HeldHour {
	return HeldHour{Hold: r.Row.hold(), CommissionNumber: number(r.Year, r.Running), ClientName: r.ClientName}
}

// HeldHours lists the hours from from to to that are kept for a client and have not expired, in time order.
func (s *Store) HeldHours(ctx context.Context, from, to time.Time) ([]HeldHour, error) {
	q := s.reads(ctx).Table("holds").Select("holds.*, commissions.year, commissions.running, clients.name as client_name").
		Joins("join commissions on commissions.id = holds.commission_id").Joins("join clients on clients.id = commissions.client_id").
		Where("holds.expires > ? and holds.begins < ? and holds.ends > ?", millis(s.now()), millis(to), millis(from)).Order("holds.begins, holds.id")
	list, err := many(q, heldRow.held)
	if err != nil {
		return nil, fmt.Errorf("held hours: %w", err)
	}
	return list, nil
}

type turnRow struct {
	CommissionID, Kind, Place        string
	Since                            int64
	Year, Running                    int
	ClientName                       string
	OfferID, OfferPlace              *string
	OfferBegins, OfferEnds, OfferFor *int64
	Total                            int
}

func (r turnRow) turn() Turn {
	t := Turn{Wait: Wait{r.Kind, r.Place, moment(r.Since)}, CommissionID: r.CommissionID, CommissionNumber: number(r.Year, r.Running), ClientName: r.ClientName}
	if r.OfferID != nil {
		t.Offer = &Hold{ID: *r.OfferID, CommissionID: r.CommissionID, Kind: r.Kind, Place: *r.OfferPlace, Offered: true,
			Start: moment(*r.OfferBegins), End: moment(*r.OfferEnds), Expires: moment(*r.OfferFor)}
	}
	return t
}

// WaitLine lists those who wait for an hour to fall free, in the order in which they are asked, at most
// so many; and how many wait in all.
func (s *Store) WaitLine(ctx context.Context, most int) ([]Turn, int, error) {
	total := 0
	q := s.reads(ctx).Table("waits").
		Select(`waits.commission_id, waits.kind, waits.place, waits.since, commissions.year, commissions.running, clients.name as client_name,
			holds.id as offer_id, holds.place as offer_place, holds.begins as offer_begins, holds.ends as offer_ends, holds.expires as offer_for, count(*) over () as total`).
		Joins("join commissions on commissions.id = waits.commission_id").Joins("join clients on clients.id = commissions.client_id").
		Joins("left join holds on holds.commission_id = waits.commission_id and holds.turn > 0 and holds.expires > ?", millis(s.now())).
		Order("waits.running").Limit(most)
	list, err := many(q, func(r turnRow) Turn { total = r.Total; return r.turn() })
	if err != nil {
		return nil, 0, fmt.Errorf("who waits: %w", err)
	}
	return list, total, nil
}
