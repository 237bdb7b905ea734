package orders

import (
	"context"
	"maps"
	"slices"
	"strings"
)

// A guard is what must be so before a commission enters some stages. It can be passed over for a
// reason, and the history then names it.
type guard struct {
	name   string // in the history; never changed
	before []Stage
	words  string // what to do first
	stands func(*Store, context.Context, Commission) (bool, error)
}

// guards stand beside the table of moves: that one says where a commission may go, this one what must
// be there first.
var guards = []guard{
	{"both tapes", []Stage{Measured}, "Both tapes, round the head and nape to crown, are needed first.", (*Store).hasTapes},
	{"fit sheet", []Stage{Proposed, Agreed, InHand, InFitting, Finishing, Ready, HandedOver}, "Sign off a fit sheet first.", (*Store).hasSheet},
	{"deposit", []Stage{InHand}, "The deposit agreed to has not come in. Write the payment down first.", (*Store).depositIn},
	{"change signed", []Stage{InHand, Ready}, "Figures have been changed since the fit sheet was signed. Sign the change as the next sheet, or put them back.", (*Store).asSigned},
	{"cloth", []Stage{Proposed, Agreed, InHand}, "Of the roll or reel that this hat was signed for too little is free by now. Choose another, or count it anew if more lies there.", (*Store).enoughCloth},
	{"finishing check", []Stage{Ready}, "The finishing check is not done: tick off every part of it first.", (*Store).checked},
}

// against lists the guards that stand against entering a stage, in the order of the table.
func (s *Store) against(ctx context.Context, c Commission, to Stage) ([]guard, error) {
	var list []guard
	for _, g := range guards {
		if !slices.Contains(g.before, to) {
			continue
		}
		stands, err := g.stands(s, ctx, c)
		if err != nil {
			return nil, err
		}
		if !stands {
			list = append(list, g)
		}
	}
	return list, nil
}

// Wanted says what has to be done before a commission enters a stage, each in a sentence; nothing when
// it may.
func (s *Store) Wanted(ctx context.Context, c Commission, to Stage) ([]string, error) {
	list, err := s.against(ctx, c, to)
	return each(list, func(g guard) string { return g.words }), err
}

func names(list []guard) string {
	return strings.Join(each(list, func(g guard) string { return g.name }), ", ")
}

func (s *Store) hasTapes(ctx context.Context, c Commission) (bool, error) {
	card, err := s.cardInForce(ctx, c.ID)
	return len(card.missing()) == 0, err
}

func (s *Store) hasSheet(ctx context.Context, c Commission) (bool, error) {
	sheets, err := s.Sheets(ctx, c.ID)
	return len(sheets) > 0, err
}

// asSigned says whether the milliner's figures are those of the newest sheet; without one there is
// nothing that they could differ from.
func (s *Store) asSigned(ctx context.Context, c Commission) (bool, error) {
	sheets, err := s.Sheets(ctx, c.ID)
	if err != nil || len(sheets) == 0 {
		return true, err
	}
	w, err := s.working(ctx, c.ID)
	return maps.Equal(w.Figures, sheets[len(sheets)-1].Figures), err
}

// depositIn says whether nothing is open of the deposit; where no quotation was accepted, none was agreed.
func (s *Store) depositIn(ctx context.Context, c Commission) (bool, error) {
	a, err := s.Account(ctx, c.ID)
	return a.DepositDue == 0, err
}

func (s *Store) checked(ctx context.Context, c Commission) (bool, error) {
	check, err := s.FinishingCheck(ctx, c.ID)
	return len(check) == len(FinishingItems), err
}
