package fitting

import (
	"fmt"
	"math"
)

// silhouettePull is the one that does not look at height or width by itself.
func silhouettePull(_ *person, t *trial) float64 {
	return levelled((t.height - usualSilhouette*t.span) / 20)
}

// heightPull asks for as much more height than usual as the face is shorter than
// usual for its width.
func heightPull(p *person, t *trial) float64 {
	usual := p.presence.height
	if t.slope < 0 {
		usual = usualDroopRise
	}
	return levelled((t.height - usualLong*p.face.width - usual) / 20)
}

func tiltPull(p *person, t *trial) float64 { return (t.sideways - p.face.tilt().Degrees()) / 8 }

func placePull(_ *person, t *trial) float64 { return (t.forward - usualForward) / 6 }

func basePull(_ *person, t *trial) float64 { return (t.base - usualBase) / 10 }

func sizePull(p *person, t *trial) float64 { return 10 * (t.across()/p.presence.across - 1) }

func widthPull(p *person, t *trial) float64 { return 6 * (t.width/p.presence.width - 1) }

func saucerPull(_ *person, t *trial) float64 { return when(t.slope > 0, (t.slope-usualSlope)/12) }

func eveningPull(p *person, t *trial) float64 {
	return when(p.late, 10*(t.across()/p.presence.across-eveningPart))
}

func windPull(p *person, t *trial) float64 { return when(p.outdoors, over((t.sail()-steadySail)/0.1)) }

func staturePull(p *person, t *trial) float64 {
	return when(p.stature > 0, over((t.across()-widePart*p.stature)/15))
}

func clothPull(_ *person, t *trial) float64 { return over((t.pattern.Shear - easyShear).Degrees() / 8) }

// levelled is the pull whose square grows only evenly beyond one clear
// difference (Huber's loss, rounded), so that what cannot be had does not spoil
// the rest.
func levelled(pull float64) float64 { return pull * math.Sqrt(2/(1+math.Hypot(1, pull))) }

// over is a pull above zero, and next to nothing below, smooth where they meet.
func over(pull float64) float64 {
	const rounded = 0.5
	return (pull + math.Hypot(pull, rounded)) / 2
}

func when(holds bool, pull float64) float64 {
	if holds {
		return pull
	}
	return 0
}

func who(words string) func(*person) string { return func(*person) string { return words } }

func whoseFace(p *person) string {
	return fmt.Sprintf("A face %.2f times as long as wide (%.2f is usual)", p.face.height/p.face.width, usualLong)
}

func whoseTilt(p *person) string {
	return fmt.Sprintf("The start value for this shape of face (%.0f degrees)", p.face.tilt())
}

func whoseSize(p *person) string {
	return p.presence.who("hat", asLength(p.presence.across)+" across in all")
}

func whoseWidth(p *person) string { return p.presence.who("brim", asLength(p.presence.width)+" wide") }

func (p presence) who(what, size string) string {
	switch {
	case p.wish == p.is:
		return fmt.Sprintf("The wish for a %s %s (%s)", p.is, what, size)
	case p.wish == "" && p.is == Balanced:
		return fmt.Sprintf("The middle size of %s, taken without a wish (%s),", what, size)
	}
	return fmt.Sprintf("The size of a %s %s (%s)", p.is, what, size)
}
