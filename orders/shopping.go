package orders

import (
	"context"
	"fmt"
	"slices"
	"time"
)

// A Need is what open commissions have reserved of one roll, against what is left of it.
type Need struct {
	Of       Roll
	Hats     int
	Agreed   int // of the hats, those that are agreed
	Reserved int // mm
	Short    []Lack
}

// Missing is how much is to be bought, mm.
func (n Need) Missing() int { return max(0, n.Reserved-n.Of.Left) }

// A Lack is a hat for which a roll does not do, or that has no roll yet.
type Lack struct {
	Planned
	Sheet  int
	Length int // mm that it takes
	Lacks  int // mm of that which are missing
}

// Dates are the latest day on which its cloth can be ordered and that on which it has to be there; zero when
// its day is not fixed.
func (l Lack) Dates(p Plan) (order, here time.Time) {
	worn, err := time.Parse(dayLayout, l.Day)
	if err != nil {
		return order, here
	}
	latest := p.Pace.latest(worn, l.Posted, p.Days)
	return latest.By(ToPay), latest.By(ToHave)
}

type needRow struct {
	Roll, Hats, Agreed, Reserved int
}

// Needs lists every roll of which something is reserved: those of which something is missing first, the
// sooner needed the earlier, then the others by number. Of a roll that does not do, at most so many hats are
// named that come away short, in the order in which their cloth has to be there. However many commissions
// there are, it takes four queries.
func (s *Store) Needs(ctx context.Context, p Plan, most int) ([]Need, error) {
	rows, err := many(s.reads(ctx).Table("roll_entries e").Joins("join commissions on commissions.id = e.commission_id").
		Select("e.roll, count(*) as hats, sum(commissions.stage <> ?) as agreed, -sum(e.free_by) as reserved", Proposed).
		Where("e.kind = ? and not "+isEnded, Reserved).Group("e.roll").Order("e.roll"), func(r needRow) needRow { return r })
	if err != nil {
		return nil, fmt.Errorf("what is reserved: %w", err)
	}
	at := each(rows, func(r needRow) int { return r.Roll })
	rolls, err := many(s.stock(ctx).Where("rolls.number in ?", at).Order("rolls.number"), stockRow.roll)
	if err != nil {
		return nil, fmt.Errorf("rolls that are reserved: %w", err)
	}
	var list []Need
	for i, r := range rows {
		list = append(list, Need{Of: rolls[i], Hats: r.Hats, Agreed: r.Agreed, Reserved: r.Reserved})
	}
	if err := s.nameShort(ctx, p, list, most); err != nil {
		return nil, err
	}
	slices.SortStableFunc(list, func(a, b Need) int { return sooner(a, b, p) })
	return list, nil
}

// sooner puts what is missing first, and of that what has to be there first.
func sooner(a, b Need, p Plan) int {
	if len(a.Short) == 0 || len(b.Short) == 0 {
		return len(b.Short) - len(a.Short)
	}
	_, x := a.Short[0].Dates(p)
	_, y := b.Short[0].Dates(p)
	if x.IsZero() || y.IsZero() {
		return y.Compare(x)
	}
	return x.Compare(y)
}

// clothDue orders commissions as their cloth has to be there: those that are posted by so much sooner.
const clothDue = "coalesce(date(commissions.day, case when " + isPosted + " then ? else '+0 days' end), '9999')"

// lackRow is a hat with what it takes of a roll.
type lackRow struct {
	Roll, Sheet, Length, Lacks int
	CommissionID               string
}

// nameShort puts the hats that come away short into the needs of their rolls.
func (s *Store) nameShort(ctx context.Context, p Plan, list []Need, most int) error {
	var rolls []int
	for _, n := range list {
		if n.Missing() > 0 {
			rolls = append(rolls, n.Of.Number)
		}
	}
	rows, err := many(s.reads(ctx).Raw(`
		with waiting as (
			select e.roll, e.sheet, -e.free_by as length, e.commission_id, commissions.year, commissions.running, `+clothDue+` as due
			from roll_entries e join commissions on commissions.id = e.commission_id
			where e.kind = 'reserved' and e.roll in ? and not `+isEnded+`),
		summed as (
			select *, sum(length) over (partition by roll order by due, year, running rows unbounded preceding) as upto from waiting),
		lacking as (
			select summed.*, min(length, upto - newest.left_after) as lacks, row_number() over (partition by summed.roll order by upto) as nth
			from summed join rolls on rolls.number = summed.roll `+newestEntry+` where upto > newest.left_after)
		select * from lacking where nth <= ? order by roll, nth`, fmt.Sprintf("-%d days", p.Pace.PostingDays), rolls, most),
		func(r lackRow) lackRow { return r })
	if err != nil {
		return fmt.Errorf("hats short of cloth: %w", err)
	}
	hats, err := s.plannedBy(ctx, each(rows, func(r lackRow) string { return r.CommissionID }))
	if err != nil {
		return err
	}
	for _, r := range rows {
		i := slices.IndexFunc(list, func(n Need) bool { return n.Of.Number == r.Roll })
		list[i].Short = append(list[i].Short, Lack{hats[r.CommissionID], r.Sheet, r.Length, r.Lacks})
	}
	return nil
}

func (s *Store) plannedBy(ctx context.Context, ids []string) (map[string]Planned, error) {
	list, _, err := counted(s.planned(ctx).Where("commissions.id in ?", ids), "hats short of cloth")
	hats := map[string]Planned{}
	for _, c := range list {
		hats[c.ID] = c
	}
	return hats, err
}

// Unchosen lists signed hats that are still to be cut and have no roll chosen, in the order in which their
// cloth has to be there, at most so many, and how many there are in all. Once anything was cut for a hat from
// a roll it is none of them.
func (s *Store) Unchosen(ctx context.Context, p Plan, most int) ([]Lack, int, error) {
	const newest = "f.commission_id = commissions.id and f.number = (select max(number) from fit_sheets where commission_id = commissions.id)"
	q := s.planned(ctx).Joins("join fit_sheets f on "+newest).
		Where(`stage in ? and json_extract(f.figures, '$."cloth.roll"') is null`, []Stage{Proposed, Agreed, InHand}).
		Where("not exists (select 1 from roll_entries e join rolls on rolls.number = e.roll where e.commission_id = commissions.id and e.kind = ? and rolls.reel is null)", Used).
		Clauses(ordered(clothDue+", commissions.year, commissions.running", fmt.Sprintf("-%d days", p.Pace.PostingDays))).Limit(most)
	list, total, err := counted(q, "hats without a roll")
	if err != nil {
		return nil, 0, err
	}
	lengths, err := many(s.reads(ctx).Raw("select f.commission_id, f.number as sheet, coalesce(json_extract(f.result, '$.cloth.takes.length_mm'), 0) as takes from fit_sheets f join commissions on "+newest+" where commissions.id in ?",
		each(list, func(c Planned) string { return c.ID })), func(r takesRow) takesRow { return r })
	if err != nil {
		return nil, 0, fmt.Errorf("cloth of hats without a roll: %w", err)
	}
	return each(list, func(c Planned) Lack {
		i := slices.IndexFunc(lengths, func(r takesRow) bool { return r.CommissionID == c.ID })
		return Lack{Planned: c, Sheet: lengths[i].Sheet, Length: ToCut(*millimetres(lengths[i].Takes))}
	}), total, nil
}

type takesRow struct {
	CommissionID string
	Sheet        int
	Takes        float64
}
