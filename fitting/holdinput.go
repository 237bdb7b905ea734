package fitting

import "fmt"

// holdSettings are those that stand in the input, each in its place.
func (in Input) holdSettings(w work) HoldSettings {
	set := in.Hold
	set.Outdoors, set.Hair, set.Grip = in.Occasion.Outdoors, in.Hair.Worn, in.Hair.Grip
	set.Layers, set.Folds = new(len(in.Hat.Layers.Turns())), in.Hat.Folds
	set.Density, set.Trim = in.Cloth.Density, in.Hat.Trim
	if w.reel != nil && w.stretchGiven && set.Tension == nil {
		set.Tension = new(w.reel.Tension(w.stretch))
	}
	return set
}

// anchors are where the elastic is sewn on. Where no fraction holds the hat by
// itself the steadiest is the usual one.
func (s Solution) anchors(in Input, w work) (Anchors, error) {
	switch in.Hat.Anchor {
	case AtEars:
		return EarAnchors(s.Head, s.Seat, in.Hair.Thickness), nil
	case Steadiest:
		at, _, err := SteadiestAnchors(s.Head, s.Seat, s.Brim, in.Hair.Thickness, w.hold)
		return at, err
	default:
		return Anchors{w.anchor, w.anchor}, nil
	}
}

// reel is the maker's, or nil where she did not try it.
func (c Cord) reel() (*Reel, error) {
	if c.Rest == nil && c.Loaded == nil && c.Load == nil {
		return nil, nil
	}
	for _, f := range []struct {
		field   string
		missing bool
	}{{"elastic.rest_mm", c.Rest == nil}, {"elastic.loaded_mm", c.Loaded == nil}, {"elastic.load_n", c.Load == nil}} {
		if f.missing {
			return nil, Refusal{f.field, "To know the elastic say how long a piece of it is without a load and with one, and how heavy that load is."}
		}
	}
	r, err := NewReel(*c.Rest, *c.Loaded, *c.Load)
	return &r, err
}

// stretchAt is how far the elastic is stretched to have the tension: as given,
// else by the reel, else as usual.
func (w work) stretchAt(tension float64) (float64, error) {
	if w.reel == nil || w.stretchGiven {
		return w.stretch, nil
	}
	stretch := w.reel.Stretch(tension)
	if !(stretch <= mostStretch) {
		return 0, Refusal{"elastic.load_n", fmt.Sprintf("This elastic is too weak: to pull with %s it would have to be stretched to more than twice its length. Take a firmer one, or two.", asForce(tension))}
	}
	return stretch, nil
}
