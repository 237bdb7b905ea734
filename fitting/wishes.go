package fitting

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

func directionOf(slope float64) Direction {
	if slope < 0 {
		return Down
	}
	return Up
}

// slopeSays is how steep the brim goes up or down, and why that way.
func (k task) slopeSays(chosen, other found) string {
	way := directionOf(chosen.trial.slope)
	goes := map[Direction]string{Up: "lifts", Down: "droops"}[way]
	says := fmt.Sprintf("The brim %s by %s from the rim's plane", goes, asAngle(math.Abs(chosen.trial.slope)))
	switch wish := k.in.Wish.Brim; {
	case wish == way && way == Up:
		return says + ", as wished."
	case wish == way:
		return says + ", as wished." + chosen.ratherUp()
	case wish != "":
		return says + ", though " + string(wish) + " was wished." + other.impossible()
	case !other.dropped && other.exceeded > 0 && chosen.exceeded == 0:
		return says + "." + other.impossible()
	}
	return says + "." + chosen.against(other)
}

// ratherUp names what a drooping brim is not good for.
func (f found) ratherUp() (says string) {
	for _, o := range objections[1:] {
		if o.weight(f.person) > 0.5 {
			says += " " + o.who + " would rather have it lift."
		}
	}
	return says
}

// impossible names the limit that the best hat of its kind breaks most.
func (f found) impossible() string {
	return " The other way was not to be had. " + f.tightest().who + " stands in the way."
}

// tightest is the limit that the hat breaks most, or is nearest to.
func (f found) tightest() bound {
	return slices.MinFunc(bounds[:], func(a, b bound) int {
		return cmp.Compare(a.room(f), b.room(f))
	})
}

// room is the limit's spare, without end for what is no limit by itself.
func (b bound) room(f found) float64 {
	if b.aside() {
		return math.Inf(1)
	}
	return b.spare(f.person, &f.trial)
}

// voice is who speaks for a way of the brim, and how loud.
type voice struct {
	who  string
	loud float64
}

// against names what speaks most for f and against the other.
func (f found) against(other found) (says string) {
	way, doing := 1.0, "lifting" // the other droops
	if f.trial.slope < 0 {
		way, doing = -1, "drooping"
	}
	var voices []voice
	for _, o := range objections {
		voices = append(voices, voice{o.who, way * o.weight(f.person)})
	}
	if !other.dropped { // else the objections alone were too much
		for _, m := range terms {
			here, there := m.pull(f.person, &f.trial), m.pull(other.person, &other.trial)
			voices = append(voices, voice{m.who(f.person), m.weight * (there*there - here*here)})
		}
	}
	slices.SortStableFunc(voices, func(v, w voice) int { return cmp.Compare(w.loud, v.loud) })
	for _, v := range voices[:min(2, len(voices))] {
		if v.loud > 0.5 {
			says += " " + v.who + " speaks for " + doing + "."
		}
	}
	return says
}

// presenceUnmet says why the hat is nearer to another presence than to the one
// that was wished.
func (k task) presenceUnmet(t trial, all []mover) []Note {
	wish := k.in.Wish.Presence
	nearest := slices.MinFunc(presences[:], func(a, b Presence) int {
		off := func(p Presence) float64 { return math.Abs(presenceOf(p, "").across - t.across()) }
		return cmp.Compare(off(a), off(b))
	})
	if wish != k.search.person.presence.is || nearest == wish {
		return nil
	}
	size := theSize
	size.noticed = 0 // whatever it is that matters most is worth a word here
	why, source := size.moved(t, all)
	return []Note{{theSize.field, t.across(), nil, source, fmt.Sprintf(
		"A hat that is %s was wished; with %s across this one is %s.%s", wish, inCentimetres(Length(t.across())), nearest, why)}}
}

// unmetBy lists the wishes that the figures given do not meet.
func unmetBy(in Input) []Note {
	var notes []Note
	if s := in.Hat.Sideways; s != nil && in.Wish.Side != "" && in.Wish.Side != sideOfTilt(*s) {
		notes = append(notes, Note{"wish.side", s.Degrees(), nil, "the figure given", fmt.Sprintf(
			"The wish was for the %s; the tilt given is to the %s.", ownSide(in.Wish.Side), ownSide(sideOfTilt(*s)))})
	}
	if s := in.Hat.BrimSlope; s != nil && in.Wish.Brim != "" && in.Wish.Brim != directionOf(s.Degrees()) {
		notes = append(notes, Note{"wish.brim", s.Degrees(), nil, "the figure given", fmt.Sprintf(
			"The wish was for a brim that goes %s; the slope given goes %s.", in.Wish.Brim, directionOf(s.Degrees()))})
	}
	return notes
}

func sideOfTilt(sideways Angle) Side {
	switch {
	case sideways > 0:
		return Left
	case sideways < 0:
		return Right
	}
	return Middle
}

func ownSide(s Side) string {
	if s == Middle {
		return "middle"
	}
	return "wearer's own " + string(s)
}
