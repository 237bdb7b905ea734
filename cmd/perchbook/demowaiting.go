package main

import (
	"context"
	"fmt"
	"time"

	"perchbook/orders"
)

// tellOfWaiting lets two clients wait for a fitting and a third give hers back, so that it is offered to
// the first of them.
func tellOfWaiting(ctx context.Context, s *orders.Store, now time.Time) error {
	all, err := s.Commissions(ctx)
	if err != nil {
		return err
	}
	hats := map[string]*teller{}
	for _, c := range all {
		hats[c.ClientName] = &teller{ctx: ctx, store: s, now: now, id: c.ID}
	}
	gives, first, second := hats["Maud Pennywhistle"], hats["Clover Fennimere"], hats["Cressida Windlass"]
	free, err := gives.ago(5*day).Free(ctx, orders.Fitting, now.Add(9*day), now.Add(9*day+2*week))
	if err != nil {
		return err
	}
	if len(free) == 0 {
		return fmt.Errorf("no hour is free to be given back")
	}
	a, err := gives.ago(5*day).Book(ctx, gives.id, orders.Fitting, orders.InPerson, free[0])
	if err != nil {
		return err
	}
	if err := first.ago(2*day).WaitFor(ctx, first.id, orders.Fitting, orders.InPerson); err != nil {
		return err
	}
	if err := second.ago(day).WaitFor(ctx, second.id, orders.Fitting, orders.InPerson); err != nil {
		return err
	}
	if _, err := gives.ago(2*time.Hour).CancelHers(ctx, gives.id, a.ID); err != nil {
		return err
	}
	for _, t := range []*teller{gives, first, second} {
		if err := t.deliver(); err != nil {
			return err
		}
	}
	return nil
}
