package fitting

import "fmt"

// Reel is what hanging a known load on a piece of elastic showed of the reel that
// it is from.
type Reel struct {
	Rest, Loaded Length  // of the same piece, without and with the load
	Load         float64 // N; 100 g hang with 0.98 N
}

// NewReel refuses pieces, stretches and loads that say little about an elastic on
// a hat, by their field in the contract.
func NewReel(rest, loaded Length, load float64) (Reel, error) {
	if err := within("elastic.rest_mm", "The unloaded piece of elastic", rest, leastTried, mostTried); err != nil {
		return Reel{}, err
	}
	least, most := rest*(1+leastTrial), rest*(1+mostTrial)
	if err := within("elastic.loaded_mm", "The same piece under load", loaded, least, most); err != nil {
		return Reel{}, err
	}
	if err := between("elastic.load_n", "The load on the elastic", load, leastLoad, mostLoad, " N (1 N is the pull of 102 g)"); err != nil {
		return Reel{}, err
	}
	return Reel{rest, loaded, load}, nil
}

// The door for reels, wide of any fine elastic: our choice.
const (
	leastTried, mostTried = 20 * Millimetre, 2000 * Millimetre
	leastTrial, mostTrial = 0.01, 3.0 // stretch under the load
	leastLoad, mostLoad   = 0.02, 20.0
)

// Stiffness is EA: the tension in N over the stretch, taken as a straight line
// through the load that was tried.
func (r Reel) Stiffness() float64 { return r.Load * float64(r.Rest/(r.Loaded-r.Rest)) }

// Stretch is how far a tension in N stretches the elastic, as a part of its
// relaxed length.
func (r Reel) Stretch(tension float64) float64 { return tension / r.Stiffness() }

// Tension is that in N of the elastic at a stretch.
func (r Reel) Tension(stretch float64) float64 { return stretch * r.Stiffness() }

// cautions about a tension that the reel was not tried at.
func (r Reel) cautions(tension float64) []Note {
	if tension <= r.Load {
		return nil
	}
	return []Note{{"elastic.load_n", r.Load, limit(tension), "a straight line is taken through the load that was tried",
		fmt.Sprintf("The reel was tried with %s and is to pull with %s: try it with more.", asForce(r.Load), asForce(tension))}}
}
