package fitting

import "math"

// The hold as a limit of the advice: some comfortable tension of the elastic by
// itself keeps the hat on in still air. Whether one does takes a linear programme
// to say, so that the search keeps to tangents of that limit instead, drawn
// anew where it comes to.

const (
	holdKey      = "hold.t_min_n"
	mostTangents = 3    // kept at a time: the limit has edges, where several of its faces meet
	mostTouches  = 10   // of the limit, until it is given up
	touchProbe   = 1e-3 // for a derivative, in the search's unit
	touchNear    = 0.6  // in the search's unit: how far a tangent is gone by
	still        = 0.02 // in that unit: the search has come to rest
	touchMargin  = 1e-4 // of the weight: spare, so that the limit is met and not only approached
)

// tangent is the spare of the hold, in weights of the hat, as it changes near the
// figures at. The zero tangent limits nothing.
type tangent struct {
	at, slope [unknowns]float64
	spare     float64
	drawn     bool
}

func (g *tangent) over(f figures) float64 {
	if !g.drawn {
		return 1
	}
	spare := g.spare - touchMargin
	for i, x := range f.scaled() {
		spare += g.slope[i] * (x - g.at[i])
	}
	return spare
}

// touching limits the hat to one side of one tangent.
func touching(i int) bound {
	return bound{holdKey, func(p *person, t *trial) float64 { return p.tangents[i].over(t.figures) },
		"The hold, which is to need no more than a comfortable elastic,", byBalance}
}

// bearingOf sets a hat on trial on the head, with its elastic. It reports false
// when there is no way for that.
func (p *person) bearingOf(t *trial) (*bearing, bool) {
	at, err := p.anchorsOn(t.seat, t.brim)
	if err != nil {
		return nil, false
	}
	elastic, err := NewElasticAt(p.head, t.seat, p.hair, at)
	if err != nil {
		return nil, false
	}
	strip, err := t.pattern.Strip(p.hold.folds)
	if err != nil {
		return nil, false
	}
	return newBearing(p.head, t.seat, elastic, burdens(t.seat, t.brim, strip, p.hold), p.hold.press), true
}

// steadiness is how a hat is held by its elastic alone, in still air.
type steadiness struct {
	holds bool
	spare float64 // inside the limit, in weights of the hat
	known bool
}

func (p *person) steadiness(t *trial) steadiness {
	b, ok := p.bearingOf(t)
	if !ok {
		return steadiness{}
	}
	least, _, ok := b.tensions(p.hold.friction / p.hold.reserve)
	spare := p.spareOf(b, t)
	return steadiness{ok && least <= p.hold.most, spare, spare >= -mostLift}
}

func (p *person) spareOf(b *bearing, t *trial) float64 {
	return -b.pressed(p.hold.friction/p.hold.reserve, p.hold.most, pull{t.seat.Normal.Times(-1), t.seat.Centre})
}

// touch draws the tangent at a hat.
func (s search) touch(t *trial, spare float64) (g tangent, ok bool) {
	x := t.figures.scaled()
	g = tangent{at: x, spare: spare, drawn: true}
	low, high := s.low.scaled(), s.high.scaled()
	for i := range x {
		if low[i] == high[i] {
			continue
		}
		h := touchProbe
		if x[i]+h > high[i] {
			h = -h
		}
		there := x
		there[i] += h
		near := s.person.try(figuresFrom(there))
		b, ok := s.person.bearingOf(&near)
		if !ok {
			return g, false
		}
		g.slope[i] = (s.person.spareOf(b, &near) - spare) / h
	}
	return g, true
}

// steady returns the best hat near f that its elastic alone holds, to some 0.001
// of its score. Where none is found inside the other limits it returns the last
// one tried, and false.
func (s search) steady(f found) (found, bool) {
	best, at, moved := found{exceeded: math.Inf(1)}, f, math.Inf(1)
	for range mostTouches {
		now := at.person.steadiness(&at.trial)
		inside := now.holds && at.exceeded == 0
		if inside && at.better(best) {
			best = at
		}
		if inside && (at.person == f.person || moved < still) {
			return best, true
		}
		g, ok := s.touch(&at.trial, now.spare)
		if !ok || !now.known {
			break
		}
		p := *at.person
		p.add(g)
		s.person = &p
		next := s.within(at.trial.figures, touchNear).from(at.trial.figures, at.heldByOthers(), exactly)
		moved = next.trial.figures.off(at.trial.figures)
		at = next
	}
	if math.IsInf(best.exceeded, 1) {
		return at, false
	}
	return best, true
}

// heldByOthers leaves out the tangents, which change.
func (f found) heldByOthers() (held [len(bounds)]float64) {
	for i, b := range bounds {
		if b.key != holdKey {
			held[i] = f.held[i]
		}
	}
	return held
}

// within is the search that goes no farther from figures than reach, in its unit.
func (s search) within(f figures, reach float64) search {
	x, low, high := f.scaled(), s.low.scaled(), s.high.scaled()
	for i := range x {
		low[i], high[i] = min(max(low[i], x[i]-reach), high[i]), max(min(high[i], x[i]+reach), low[i])
	}
	s.low, s.high = figuresFrom(low), figuresFrom(high)
	return s
}

// add keeps a tangent beside those drawn near it that limit no more than there is
// to limit.
func (p *person) add(g tangent) {
	kept := []tangent{g}
	at := figuresFrom(g.at)
	for _, old := range p.tangents {
		near := old.drawn && at.off(figuresFrom(old.at)) <= touchNear
		if near && old.over(at) >= g.spare-2*touchMargin && len(kept) < mostTangents {
			kept = append(kept, old)
		}
	}
	p.tangents = [mostTangents]tangent{}
	copy(p.tangents[:], kept)
}

// off is the largest difference in a figure, in the search's unit.
func (f figures) off(g figures) (most float64) {
	x, y := f.scaled(), g.scaled()
	for i := range x {
		most = max(most, math.Abs(x[i]-y[i]))
	}
	return most
}
