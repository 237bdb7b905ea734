package server

import (
	"context"

	"perchbook/orders"
)

// A file is everything kept about one commission.
type file struct {
	desk
	orders.Commission
	Client    orders.Client
	Draft     orders.Draft
	Cards     []orders.MeasureCard
	Fitted    orders.Fitted
	Sheets    []orders.FitSheet
	Held      []orders.HeldCloth // of rolls, reserved and cut
	Booked    []orders.Appointment
	Letters   []orders.Letter
	Notes     []orders.Note
	Others    []orders.Commission // of the same client
	Channels  map[string]string   // of the client's chats, by id
	Way       string              // channel of the next letter, "" when it is sent by hand
	History   []orders.Move
	Finishing []orders.Tick // the check as it is ticked off now
	Account   orders.Account
	Fittings  []orders.FittingNote // the newest first
}

// file reads a commission with all that belongs to it.
func (s *Server) file(ctx context.Context, id string) (f file, err error) {
	read := func(step func() error) {
		if err == nil {
			err = step()
		}
	}
	read(func() (e error) { f.Commission, e = s.Store.Commission(ctx, id); return })
	read(func() (e error) { f.desk, e = s.desk(ctx); return })
	read(func() (e error) { f.Client, e = s.Store.Client(ctx, f.ClientID); return })
	read(func() (e error) { f.Draft, e = s.Store.Draft(ctx, f.DraftID); return })
	read(func() (e error) { f.Cards, e = s.Store.Cards(ctx, id); return })
	read(func() (e error) { f.Fitted, e = s.Store.Fitted(ctx, id); return })
	read(func() (e error) { f.Sheets, e = s.Store.Sheets(ctx, id); return })
	read(func() (e error) { f.Held, e = s.Store.HeldCloth(ctx, id); return })
	read(func() (e error) { f.Booked, e = s.Store.Appointments(ctx, id); return })
	read(func() (e error) { f.Letters, e = s.Store.Letters(ctx, f.ClientID); return })
	read(func() (e error) { f.Notes, e = s.Store.Notes(ctx, f.ClientID); return })
	read(func() (e error) { f.Others, e = s.Store.OthersOf(ctx, f.Commission); return })
	read(func() (e error) { f.Way, e = s.Store.WayTo(ctx, f.ClientID); return })
	read(func() (e error) { f.Channels, e = s.Store.Channels(ctx, f.ClientID); return })
	read(func() (e error) { f.History, e = s.Store.History(ctx, id); return })
	read(func() (e error) { f.Finishing, e = s.Store.FinishingCheck(ctx, id); return })
	read(func() (e error) { f.Account, e = s.Store.Account(ctx, id); return })
	read(func() (e error) { f.Fittings, e = s.Store.FittingNotes(ctx, id); return })
	return f, err
}
