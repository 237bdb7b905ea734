package orders

import (
	"context"
	"fmt"
)

// Copy gathers everything that is kept about a commission's client, as it is at one moment.
// ErrNotFound when there is no such commission.
func (s *Store) Copy(ctx context.Context, commissionID string) (Copy, error) {
	return together(ctx, s, func(s *Store) (Copy, error) {
		asked, err := s.Commission(ctx, commissionID)
		if err != nil {
			return Copy{}, err
		}
		client, err := s.Client(ctx, asked.ClientID)
		if err != nil {
			return Copy{}, err
		}
		hers, err := many(s.named(ctx).Where("commissions.client_id = ?", client.ID).Order("commissions.made"), namedRow.commission)
		if err != nil {
			return Copy{}, fmt.Errorf("commissions of client %s: %w", client.ID, err)
		}
		c := Copy{About: aboutCopies, Copied: s.clock(), Name: client.Name, Reach: client.Reach, Zone: client.Zone, Prefers: client.Prefers, Owed: client.Owed}
		for _, commission := range hers {
			copied, err := s.copied(ctx, commission)
			if err != nil {
				return Copy{}, err
			}
			c.Commissions = append(c.Commissions, copied)
		}
		letters, err := s.Letters(ctx, client.ID)
		if err != nil {
			return Copy{}, err
		}
		if c.Letters, err = s.copiedLetters(ctx, letters); err != nil {
			return Copy{}, err
		}
		c.Chats, err = many(s.reads(ctx).Where("client_id = ?", client.ID), chatRow.copied)
		if err != nil {
			return Copy{}, fmt.Errorf("chats of client %s: %w", client.ID, err)
		}
		return c, nil
	})
}

// CopyDraft is Copy for an enquiry that was not sent in: it stands as a commission without a number.
// ErrNotFound when there is no such draft.
func (s *Store) CopyDraft(ctx context.Context, draftID string) (Copy, error) {
	return together(ctx, s, func(s *Store) (Copy, error) {
		d, err := s.Draft(ctx, draftID)
		if err != nil {
			return Copy{}, err
		}
		k := Copy{About: aboutCopies, Copied: s.clock(), Name: d.Answers["name"].Value, Reach: d.Answers["reach"].Value}
		enquiry, err := s.copied(ctx, Commission{DraftID: d.ID})
		if err != nil {
			return Copy{}, err
		}
		k.Commissions = []CopiedCommission{enquiry}
		hers := s.reads(ctx).Model(&chatRow{}).Select("id").Where("draft_id = ?", d.ID)
		letters, err := many(s.reads(ctx).Where("chat_id in (?)", hers).Order("running"), letterRow.letter)
		if err != nil {
			return Copy{}, fmt.Errorf("letters of draft %s: %w", d.ID, err)
		}
		if k.Letters, err = s.copiedLetters(ctx, letters); err != nil {
			return Copy{}, err
		}
		k.Chats, err = many(s.reads(ctx).Where("draft_id = ?", d.ID), chatRow.copied)
		return k, err
	})
}

// copied gathers what hangs on one commission.
func (s *Store) copied(ctx context.Context, c Commission) (k CopiedCommission, err error) {
	read := func(step func() error) {
		if err == nil {
			err = step()
		}
	}
	var d Draft
	var changes []Amendment
	var w Working
	var cards []MeasureCard
	var sheets []FitSheet
	var hours []Appointment
	var waits []Wait
	var holds []Hold
	var quotations []Quotation
	var payments []Payment
	var moves []Move
	read(func() (e error) { d, e = s.Draft(ctx, c.DraftID); return })
	read(func() (e error) { changes, e = s.Amendments(ctx, c.DraftID); return })
	read(func() (e error) { w, e = s.working(ctx, c.ID); return })
	read(func() (e error) { cards, e = s.Cards(ctx, c.ID); return })
	read(func() (e error) { sheets, e = s.Sheets(ctx, c.ID); return })
	read(func() (e error) { k.Cloth, e = s.copiedLengths(ctx, c.ID); return })
	read(func() (e error) { hours, e = s.Appointments(ctx, c.ID); return })
	read(func() (e error) { waits, e = s.waitsOf(ctx, c.ID); return })
	read(func() (e error) { holds, e = many(s.reads(ctx).Where("commission_id = ?", c.ID), holdRow.hold); return })
	read(func() (e error) { k.FittingNotes, e = s.copiedFittings(ctx, c.ID); return })
	read(func() (e error) { quotations, e = s.Quotations(ctx, c.ID); return })
	read(func() (e error) { payments, e = s.Payments(ctx, c.ID); return })
	read(func() error {
		being, err := s.QuotationDraft(ctx, c.ID)
		k.BeingQuoted = being.Typed
		return err
	})
	read(func() (e error) { moves, e = s.History(ctx, c.ID); return })
	read(func() (e error) {
		k.Finishing, e = many(s.reads(ctx).Where("commission_id = ?", c.ID).Order("id"), tickRow.copied)
		return
	})
	read(func() (e error) {
		k.Notes, e = many(s.reads(ctx).Where("commission_id = ?", c.ID).Order("at, rowid"), noteRow.copied)
		return
	})
	read(func() (e error) {
		k.KeptOn, e = many(s.reads(ctx).Where("commission_id = ?", c.ID).Order("id"), keptOnRow.copied)
		return
	})
	read(func() (e error) {
		all, e := s.Consents(ctx, c.DraftID)
		k.Consents = each(all, Consented.copied)
		return e
	})
	read(func() (e error) { k.MeasuresErased, e = s.measuresErased(ctx, c.ID); return })
	read(func() (e error) { k.Photographs, e = s.copiedPhotographs(ctx, c.DraftID); return })
	k.Number, k.Kind, k.Stage, k.Occasion, k.Day = c.Number, c.Kind, c.Stage, c.Occasion, c.Day
	k.CameBy, k.Begun, k.Sent = d.Door, d.Begun, c.Made
	k.Answers, k.Changes = d.Answers.copied(), each(changes, Amendment.copied)
	k.Figures, k.Note = w.Figures, w.Note
	k.Cards, k.Sheets = each(cards, MeasureCard.copied), each(sheets, FitSheet.copied)
	k.WaitsFor, k.HeldHours = each(waits, Wait.copied), each(holds, Hold.copied)
	k.Appointments, k.History = each(hours, Appointment.copied), each(moves, Move.copied)
	k.Quotations, k.Payments = each(quotations, Quotation.handedOver), each(payments, Payment.copied)
	return k, err
}

func (s *Store) copiedPhotographs(ctx context.Context, draftID string) ([]CopiedPhotograph, error) {
	list, err := many(s.reads(ctx).Where("draft_id = ?", draftID).Order("added, id"), func(r photoRow) CopiedPhotograph {
		return CopiedPhotograph{moment(r.Added), r.JPEG}
	})
	if err != nil {
		return nil, fmt.Errorf("photographs of draft %s: %w", draftID, err)
	}
	return list, nil
}

func (s *Store) copiedLengths(ctx context.Context, commissionID string) ([]CopiedLength, error) {
	list, err := many(s.reads(ctx).Table("roll_entries e").Joins("join rolls on rolls.number = e.roll").Select("e.*, rolls.reel, rolls.body").
		Where("e.commission_id = ?", commissionID).Order("e.running"), clothRow.copied)
	if err != nil {
		return nil, fmt.Errorf("cloth of commission %s: %w", commissionID, err)
	}
	return list, nil
}

func (s *Store) copiedFittings(ctx context.Context, commissionID string) ([]CopiedFittingNote, error) {
	notes, err := s.FittingNotes(ctx, commissionID)
	if err != nil {
		return nil, err
	}
	list := []CopiedFittingNote{}
	for _, n := range notes {
		k := CopiedFittingNote{n.Noted, n.Posted, n.Proposed, n.Real, n.Changed, n.Comfort, n.Hold, n.Said, [][]byte{}}
		for _, id := range n.Photos {
			jpeg, err := s.FittingPhoto(ctx, commissionID, id)
			if err != nil {
				return nil, err
			}
			k.Photographs = append(k.Photographs, jpeg)
		}
		list = append(list, k)
	}
	return list, nil
}

func (s *Store) copiedLetters(ctx context.Context, letters []Letter) ([]CopiedLetter, error) {
	list := each(letters, Letter.copied)
	for i, l := range letters {
		for _, id := range l.Photos {
			jpeg, _, err := s.LetterPhoto(ctx, id)
			if err != nil {
				return nil, err
			}
			list[i].Photographs = append(list[i].Photographs, jpeg)
		}
		for _, id := range l.Papers {
			pdf, _, err := s.LetterPaper(ctx, id)
			if err != nil {
				return nil, err
			}
			list[i].Papers = append(list[i].Papers, pdf)
		}
	}
	return list, nil
}

// each turns a list into what stands for it in a copy; an empty one is [] there and not null.
func each[T, U any](list []T, turn func(T) U) []U {
	turned := make([]U, len(list))
	for i, v := range list {
		turned[i] = turn(v)
	}
	return turned
}

// copied lists the answers in the order of the questions.
func (a Answers) copied() []CopiedAnswer {
	list := []CopiedAnswer{}
	for _, q := range Questions {
		if answer, given := a[q.Key]; given {
			list = append(list, answer.copied(q))
		}
	}
	return list
}

func (a Answer) copied(q Question) CopiedAnswer {
	return CopiedAnswer{q.Key, q.Label, a.Said, q.Show(a), a.Value, a.Confirmed, a.Source}
}

func (a Amendment) copied() CopiedChange {
	q, _ := Questions.Find(a.Key)
	return CopiedChange{a.At, a.Was.copied(q), a.Now.copied(q)}
}

func (c MeasureCard) copied() CopiedCard {
	return CopiedCard{c.Taken, c.TakenBy, c.Girth, c.NapeToCrown, c.EarToEar, c.BrowToNape, c.HeadLength, c.HeadBreadth, c.Note, c.Sources}
}

func (f FitSheet) copied() CopiedSheet {
	return CopiedSheet{f.Number, f.Signed, f.SignedBy, f.Why, f.Figures, f.Note, f.Input, f.Proposal, f.Result}
}

func (r clothRow) copied() CopiedLength {
	h := r.held()
	k := CopiedLength{h.At, h.Of.Named(), h.Kind, h.Sheet, h.Length(), h.By}
	if h.Kind == LetGo {
		k.Length = h.FreeBy
	}
	return k
}

func (w Wait) copied() CopiedWait { return CopiedWait(w) }

func (h Hold) copied() CopiedHold {
	return CopiedHold{h.Kind, h.Place, h.Start, h.End, h.Expires, h.Offered}
}

func (a Appointment) copied() CopiedAppointment {
	return CopiedAppointment{a.Kind, a.Place, a.State, a.Wish, a.Start, a.End, a.Missed}
}

func (q Quotation) handedOver() CopiedQuotation {
	p := q.Parts()
	c := CopiedQuotation{Number: q.Number, Made: q.Made, Says: q.Says, Currency: q.Currency, Total: p.Total, Deposit: p.Deposit, Valid: q.Valid, Wording: q.Wording}
	if q.Accepted != nil {
		c.AcceptedBy, c.AcceptedAt = q.Accepted.Name, q.Accepted.At
	}
	return c
}

func (p Payment) copied() CopiedPayment {
	return CopiedPayment{p.Receipt, p.Day, p.Payer, p.Currency, p.Amount, p.Way}
}

func (r tickRow) copied() CopiedTick { return CopiedTick{moment(r.At), r.Item, r.Ticked, r.Who} }

func (r chatRow) copied() CopiedChat { return CopiedChat{r.Channel, r.Address} }

func (r keptOnRow) copied() CopiedDecision {
	return CopiedDecision{moment(r.At), moment(r.Until), r.Why, r.Who}
}

func (c Consented) copied() CopiedConsent {
	return CopiedConsent{c.At, c.Question, c.Version, c.Language, c.Wording}
}

func (r noteRow) copied() CopiedNote { return CopiedNote{moment(r.At), r.WrittenBy, r.Body} }

func (m Move) copied() CopiedMove { return CopiedMove{m.At, m.From, m.To, m.By, m.Why, m.PassedOver} }

func (l Letter) copied() CopiedLetter {
	from := "client"
	if l.Out {
		from = "workroom"
	}
	return CopiedLetter{l.At, from, l.Kind, l.Body, l.State, l.Sent, nil, nil}
}
