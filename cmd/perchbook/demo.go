package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"perchbook/orders"
)

// Who may enter the demonstration's workroom. demoHash is the argon2id hash of the password, made
// once with the costs that server uses.
const (
	demoMaker    = "Wren"
	demoPassword = "a tern flies over"
	demoHash     = "$argon2id$v=19$m=19456,t=2,p=1$hzLb25gop2e59dfFQzfvvg$iZO7xB+rmlh8Yvc7WOaG92BaTr45dbX5hyIs9iKsvAM"
)

// fillDemo fills an empty store with an invented studio, its clients and their commissions, one or
// more in every stage, with a past and a future around the present day. A store that somebody works
// in is left as it is.
func fillDemo(ctx context.Context, s *orders.Store) error { return fillDemoAt(ctx, s, time.Now()) }

func fillDemoAt(ctx context.Context, s *orders.Store, now time.Time) error {
	return s.Together(ctx, func(s *orders.Store) error {
		used, err := inUse(ctx, s)
		if err != nil || used {
			return err
		}
		if _, err := s.SaveMaker(ctx, orders.Maker{Name: demoMaker, PasswordHash: demoHash}); err != nil {
			return err
		}
		if _, err := s.SaveStudio(ctx, demoStudio(now)); err != nil {
			return err
		}
		if _, err := s.SaveTerms(ctx, demoTerms(now)); err != nil {
			return err
		}
		if _, err := s.SavePace(ctx, demoPace()); err != nil {
			return err
		}
		if err := demoRolls(ctx, s.At(now.Add(-150*day))); err != nil {
			return err
		}
		oldestFirst := slices.SortedFunc(slices.Values(demoHats), func(a, b demoHat) int { return cmp.Compare(b.begun, a.begun) })
		for _, h := range oldestFirst { // so that numbers run with time
			if err := (&teller{ctx: ctx, store: s, now: now, hat: h}).tell(); err != nil {
				return fmt.Errorf("the hat of %s: %w", h.name, err)
			}
		}
		return tellOfWaiting(ctx, s, now)
	})
}

func inUse(ctx context.Context, s *orders.Store) (bool, error) {
	makers, err := s.Makers(ctx)
	if err != nil {
		return false, err
	}
	all, err := s.Commissions(ctx)
	return len(makers)+len(all) > 0, err
}

// demoTerms are as invented as the workroom: neither prices nor the wording are anybody's advice.
func demoTerms(now time.Time) orders.Terms {
	return orders.Terms{
		Seller: "Tern Lane Workroom\n3 Tern Lane, Saltmere\nhello@ternlane.example", Currency: "EUR",
		TaxName: "Sales tax", TaxNumber: "000 000 (invented)", TaxPoints: 2000, HourRate: 2600, OverheadPoints: 1500, MarginPoints: 2500,
		DepositPoints: 5000, Postage: 950, ClothPrice: 2450,
		Wording: "Your hat is cut to your own head. Once we have begun to cut it cannot be given back merely because you have changed your mind; " +
			"if anything is wrong with it, your rights by law are untouched. (An invented wording for this demonstration.)",
		Checked: now.AddDate(0, -2, 0).Format(time.DateOnly),
	}
}

// demoPace is that of one pair of hands with a few hours a day for the bench.
func demoPace() orders.Pace {
	return orders.Pace{
		DepositDays: 7, ClothDays: 14, MakingDays: 4, DryingDays: 1, FinishingDays: 2, PostingDays: 5, SpareDays: 3, WeekMinutes: 8 * 60,
		Left:    map[orders.Stage]int{orders.Agreed: 7 * 60, orders.InHand: 5 * 60, orders.InFitting: 2 * 60, orders.Finishing: 60},
		RushFee: 6000, Currency: "EUR",
	}
}

func demoStudio(now time.Time) orders.Studio {
	st := orders.Studio{
		Name: "Tern Lane Workroom", Place: "Saltmere", Reach: "the workroom, 3 Tern Lane, or hello@ternlane.example",
		Zone: "Europe/London", ClosedDays: []string{fmt.Sprintf("%d-12-25", now.Year()), fmt.Sprintf("%d-01-01", now.Year()+1)},
		BufferMinutes: 15, NoticeHours: 24, Rules: orders.BookingRules{MoveHours: 24},
		Minutes: map[string]int{orders.Consultation: 60, orders.Fitting: 45, orders.Collection: 15},
		Blocks:  []float64{100, 105, 110, 115, 120, 130, 140}, SideByTradition: "right",
		Materials: orders.Materials{
			ClothWidth: 910, ClothLength: 1000, Density: 104, BiasStretch: 0.26,
			Reels: []orders.Reel{
				{Number: 1, Name: "Fine round, black", Width: 2, Rest: 200, Loaded: 256, Weight: 100},
				{Number: 2, Name: "Flat, brown", Width: 5, Rest: 200, Loaded: 236, Weight: 150},
			},
		},
	}
	for day := time.Tuesday; day <= time.Friday; day++ {
		st.Hours = append(st.Hours, orders.Hours{Day: day, Opens: 10 * 60, Shuts: 13 * 60}, orders.Hours{Day: day, Opens: 14 * 60, Shuts: 18 * 60})
	}
	st.Hours = append(st.Hours, orders.Hours{Day: time.Saturday, Opens: 10 * 60, Shuts: 14 * 60})
	return st
}
