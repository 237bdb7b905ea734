package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"strings"
	"time"

	"perchbook/fitting"
	"perchbook/orders"
)

// A teller makes one demoHat happen in the store, each thing at its time in the past.
type teller struct {
	ctx   context.Context
	store *orders.Store
	now   time.Time
	hat   demoHat

	chat  orders.Chat // empty for who came by the web
	draft orders.Draft
	id    string // of the commission
}

// ago is the store with its clock standing so long before the present.
func (t *teller) ago(d time.Duration) *orders.Store { return t.store.At(t.now.Add(-d)) }

func (t *teller) tell() error {
	steps := []func() error{t.begin, t.answer}
	if !t.hat.unsent {
		steps = append(steps, t.send, t.tape, t.book, t.move, t.note, t.write, t.deliver)
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (t *teller) begin() (err error) {
	s := t.ago(t.hat.begun)
	if t.draft, err = s.Begin(t.ctx, t.hat.door, orders.Answer{Value: orders.Yes, Said: "Yes"}); err != nil || t.hat.door == orders.DoorWeb {
		return err
	}
	if t.chat, err = s.Chat(t.ctx, orders.ChannelRehearsal, "demonstration "+t.hat.name); err != nil {
		return err
	}
	t.chat.DraftID = t.draft.ID
	t.chat, err = s.SaveChat(t.ctx, t.chat)
	return err
}

// usual are the answers of whoever does not say otherwise.
var usual = map[string]string{"wearer": "me", "hair_day": "up", "hair_measured": "yes"}

// answer gives her answers in the order of the questions, as typed, through the same parser as any
// client's.
func (t *teller) answer() error {
	said := map[string]string{"name": t.hat.name, "reach": t.hat.reach, "day": orders.NotFixed}
	if t.hat.worn != 0 {
		said["day"] = t.now.Add(t.hat.worn).Format("2 January 2006")
	}
	for _, more := range []map[string]string{usual, t.hat.answers} {
		for key, text := range more {
			said[key] = text
		}
	}
	for _, q := range orders.Questions {
		text, given := said[q.Key]
		if !given || !q.Applies(t.draft.Answers) {
			continue
		}
		if err := t.answerOne(q, text); err != nil {
			return fmt.Errorf("%s: %w", q.Key, err)
		}
	}
	return nil
}

func (t *teller) answerOne(q orders.Question, text string) (err error) {
	s := t.ago(t.hat.begun)
	if q.Kind == orders.Photograph {
		_, err = s.AddPhoto(t.ctx, t.draft.ID, q.Key, swatch())
		return err
	}
	a, problem := q.Parse(orders.Said{Text: strings.Split(text, "; ")}, t.now.Add(-t.hat.begun))
	if problem != nil {
		return errors.New(problem.Text)
	}
	t.draft, err = s.Answer(t.ctx, t.draft.ID, q.Key, a)
	return err
}

func (t *teller) send() error {
	c, err := t.ago(t.hat.begun-20*time.Minute).Send(t.ctx, t.draft.ID)
	t.id = c.ID
	return err
}

func (t *teller) tape() error {
	if t.hat.taped == nil {
		return nil
	}
	card := *t.hat.taped
	card.CommissionID, card.TakenBy = t.id, orders.ByMaker
	_, err := t.ago(t.hat.begun-2*day).AddCard(t.ctx, card)
	return err
}

// book takes the hours; those to come were booked in the first quarter of the story, so that leaving
// it later gives them back.
func (t *teller) book() error {
	for _, h := range t.hat.hours {
		booking := t.hat.begun * 3 / 4
		if h.from < 0 {
			booking = (t.hat.begun - h.from) / 2 // half way between enquiry and hour
		}
		s := t.ago(booking)
		free, err := s.Free(t.ctx, h.kind, t.now.Add(h.from), t.now.Add(h.from+2*week))
		if err != nil {
			return err
		}
		if len(free) == 0 {
			return fmt.Errorf("no hour is free for a %s", h.kind)
		}
		a, err := s.Book(t.ctx, t.id, h.kind, h.place, free[0])
		if err == nil && h.state == orders.Confirmed {
			_, err = t.ago(booking-time.Hour).Confirm(t.ctx, a.ID)
		}
		if err == nil && h.state == orders.MoveAsked {
			_, err = t.ago(booking-time.Hour).AskToMove(t.ctx, a.ID, h.wish)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// reasons are given where a move wants one.
var reasons = map[orders.Stage]string{
	orders.Withdrawn: "The wedding is put off; she will write again.",
	orders.Lapsed:    "No answer to three letters, and the day has passed.",
	orders.InFitting: "The brim sat a little high; a second fitting.",
}

// move goes through the stages, evenly spread between her sending and the present.
func (t *teller) move() error {
	for i, to := range t.hat.stages {
		s := t.ago(t.hat.begun * time.Duration(len(t.hat.stages)-i) / time.Duration(len(t.hat.stages)+1))
		if done, err := t.signOrAgree(s, to); err != nil {
			return err
		} else if done {
			continue
		}
		c, err := s.Commission(t.ctx, t.id)
		if err != nil {
			return err
		}
		why := ""
		if c.Stage.WantsWhy(to) {
			why = reasons[to]
		}
		if to == orders.InFitting {
			if err := cutAll(t.ctx, s, c.ID); err != nil {
				return err
			}
		}
		if to == orders.Ready {
			if err := s.TickOff(t.ctx, c.ID, []string{"pins", "wire", "knots", "label"}, demoMaker); err != nil {
				return err
			}
		}
		if _, err := s.Move(t.ctx, c.ID, c.Version, to, demoMaker, why); err != nil {
			return fmt.Errorf("to %s: %w", to, err)
		}
	}
	return nil
}

// signOrAgree enters the two stages that follow from something done: a fit sheet signed, and a
// quotation sent with it that the client agrees to.
func (t *teller) signOrAgree(s *orders.Store, to orders.Stage) (done bool, err error) {
	switch {
	case to == orders.Proposed:
		if err := t.sign(s); err != nil {
			return false, err
		}
		return true, t.quote(s)
	case to == orders.Agreed:
		return true, t.agree(s)
	}
	return false, nil
}

func (t *teller) quote(s *orders.Store) error {
	all, err := s.Quotations(t.ctx, t.id)
	if err != nil || len(all) > 0 {
		return err
	}
	terms, err := s.Terms(t.ctx)
	if err != nil {
		return err
	}
	_, err = s.Quote(t.ctx, orders.Quotation{
		CommissionID: t.id, Sheet: 1, Seller: terms.Seller, Currency: terms.Currency, Wording: terms.Wording,
		Says:      "A small hat of sinamay made to your own measure, with its elastic and its box.",
		Materials: []orders.Line{{What: "sinamay", Quantity: 750, Unit: "m", Each: terms.ClothPrice}, {What: "elastic, ribbon, wire, thread", Quantity: 1000, Each: 640}},
		Minutes:   390, HourRate: terms.HourRate, OverheadPoints: terms.OverheadPoints, MarginPoints: terms.MarginPoints,
		TaxName: terms.TaxName, TaxNumber: terms.TaxNumber, TaxPoints: terms.TaxPoints, DepositPoints: terms.DepositPoints,
		Valid: t.now.AddDate(0, 0, 21).Format(time.DateOnly),
	}, 0, demoMaker)
	return err
}

// agree lets the client say yes, and pay the deposit on the same day unless it is still to come.
func (t *teller) agree(s *orders.Store) error {
	all, err := s.Quotations(t.ctx, t.id)
	if err != nil {
		return err
	}
	q := all[len(all)-1]
	if q, err = s.Accept(t.ctx, t.id, q.Number, t.hat.name, q.Parts().Total); err != nil {
		return err
	}
	if t.hat.unpaid {
		return nil
	}
	_, err = s.Pay(t.ctx, orders.Payment{
		ID: orders.NewPaymentID(), CommissionID: t.id, Payer: t.hat.name, Amount: q.Parts().Deposit, Way: orders.Ways[0], Day: q.Accepted.At.Format(time.DateOnly),
	}, demoMaker)
	return err
}

func (t *teller) sign(s *orders.Store) error {
	f, err := s.Fitted(t.ctx, t.id)
	if err != nil {
		return err
	}
	w, err := s.SaveWorking(t.ctx, orders.Working{CommissionID: t.id, Version: f.Working.Version, Figures: t.hat.settled, Note: t.hat.note})
	if err != nil {
		return err
	}
	_, err = s.Sign(t.ctx, t.id, orders.Signing{Version: w.Version, By: demoMaker, Why: "she tried it on and wanted it so", BuysRest: true})
	return err
}

// note writes down how the fitting came out.
func (t *teller) note() error {
	n := t.hat.noted
	if n == nil {
		return nil
	}
	s := t.ago(n.ago)
	sheets, err := s.Sheets(t.ctx, t.id)
	if err != nil {
		return err
	}
	_, settled, err := sheets[len(sheets)-1].Read()
	if err != nil {
		return err
	}
	at := settled.Placement
	cut, base, forward, sideways := settled.Elastic.Cut+n.letOut, settled.Base.Diameter, at.Forward+n.forward, at.Sideways
	_, err = s.NoteFitting(t.ctx, orders.FittingNote{
		CommissionID: t.id, Reel: settled.Elastic.Reel, Real: fitting.Made{ElasticCut: &cut, Base: &base, Forward: &forward, Sideways: &sideways},
		Changed: n.changed, Said: n.said, Comfort: orders.Comforts[n.comfort], Hold: orders.Holds[n.hold],
	}, nil, demoMaker)
	return err
}

// write exchanges the letters of the last days.
func (t *teller) write() error {
	first := min(t.hat.begun/3, 3*day)
	for i, body := range t.hat.talk {
		s := t.ago(first - time.Duration(i)*3*time.Hour)
		var err error
		if i%2 == 0 {
			_, err = s.Hear(t.ctx, orders.Letter{ChatID: t.chat.ID, CommissionID: t.id, Kind: orders.LetterTalk, Body: body})
		} else {
			_, err = s.Write(t.ctx, t.id, body)
		}
		if err != nil {
			return err
		}
	}
	if t.hat.wrote == "" {
		return nil
	}
	_, err := t.ago(first).Write(t.ctx, t.id, t.hat.wrote)
	return err
}

// deliver lets letters of more than a day ago have gone their way.
func (t *teller) deliver() error {
	c, err := t.store.Commission(t.ctx, t.id)
	if err != nil {
		return err
	}
	letters, err := t.store.Letters(t.ctx, c.ClientID)
	for _, l := range letters {
		s := t.store.At(l.At.Add(time.Minute))
		switch {
		case err != nil:
		case l.State == orders.Waiting:
			err = s.MarkSent(t.ctx, l.ID)
		case l.State == orders.ToCopy && l.At.Before(t.now.Add(-day)):
			err = s.MarkCopied(t.ctx, l.ID)
		}
	}
	return err
}

// swatch is a picture of woven cloth, drawn here.
func swatch() []byte {
	const size, thread = 480, 12
	m := image.NewRGBA(image.Rect(0, 0, size, size))
	for y := range size {
		for x := range size {
			shade := uint8(40 * (x % thread) / thread)
			if (x/thread+y/thread)%2 == 0 {
				shade = uint8(40 * (y % thread) / thread)
			}
			m.Set(x, y, color.RGBA{60 + shade, 90 + shade, 150 + shade, 255})
		}
	}
	var file bytes.Buffer
	_ = png.Encode(&file, m) // cannot fail into memory
	return file.Bytes()
}
