package main

import (
	"context"

	"perchbook/orders"
)

// demoRolls puts cloth, elastic and notions into the workroom; the last roll does not do for all the hats
// that are to be cut from it.
func demoRolls(ctx context.Context, s *orders.Store) error {
	for _, r := range []struct {
		orders.RollCloth
		length int
	}{
		{orders.RollCloth{Colour: "Ivory", Swatch: "#efe6d2", Width: 910, SwatchWidth: 100, SwatchLength: 200, SwatchWeighed: 2.1, BiasMarked: 200, BiasPulled: 252}, 6000},
		{orders.RollCloth{Colour: "Moss", Swatch: "#7d8a4e", Width: 905, SwatchWidth: 100, SwatchLength: 150, SwatchWeighed: 1.6, BiasMarked: 200, BiasPulled: 250, Note: "Stiffens well; keep it out of the sun."}, 4500},
		{orders.RollCloth{Colour: "Midnight blue", Swatch: "#26304f", Width: 915, Weight: 112, BiasMarked: 200, BiasPulled: 246}, 900},
		{orders.RollCloth{Colour: "Old rose", Swatch: "#b9787a", Width: 910}, 350},
	} {
		if _, err := s.AddRoll(ctx, r.RollCloth, r.length, demoMaker); err != nil {
			return err
		}
	}
	if _, err := s.AddElastic(ctx, 1, 20_000, demoMaker); err != nil {
		return err
	}
	for name, buy := range map[string]bool{"Millinery wire": false, "Thread, ivory": false, "Thread, midnight blue": true, "Lining, silk": true, "Ribbon, 15 mm": false, "Combs": false} {
		if err := s.AddNotion(ctx, name, buy); err != nil {
			return err
		}
	}
	return nil
}

// cutAll writes down what a hat was cut from, each a little longer than its lay.
func cutAll(ctx context.Context, s *orders.Store, commissionID string) error {
	list, err := s.HeldCloth(ctx, commissionID)
	if err != nil {
		return err
	}
	for _, h := range list {
		if !h.Open {
			continue
		}
		if _, err := s.Cut(ctx, commissionID, h.ID, h.Length()+15, demoMaker); err != nil {
			return err
		}
	}
	return nil
}
