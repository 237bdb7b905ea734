package orders

import "math"

// A Source is where a tape's readings come from. The zero Source is a tape laid for this hat.
type Source struct {
	HatSize    bool    `json:"hat_size,omitempty"`               // not read off a tape: the girth that a hat size stands for
	Taken      string  `json:"taken,omitempty"`                  // readings of an earlier hat, used again: the day on which they were taken, 2025-09-12
	By         string  `json:"taken_by,omitempty"`               // who took those
	Questioned bool    `json:"unlikely_but_confirmed,omitempty"` // she was asked about them, and kept them
	Doubt      float64 `json:"doubt_mm,omitempty"`               // standard deviation of the mean's error, when it is greater than readings tell
}

// hatSizeSource is that of a size with that many mm between it and the next. The hat lies as well as a tape laid
// once by herself, and the head anywhere within half a step: a modelling choice.
func hatSizeSource(step float64) Source {
	_, once := Doubt([]float64{step}, ByClient)
	return Source{HatSize: true, Doubt: math.Hypot(once, step/2)}
}

// Doubt is the mean of a tape's readings in mm and the standard deviation of its error, as the function
// of that name has them or greater by where they come from. The key is that of the question which asks for
// the tape. Both are NaN without readings.
func (c MeasureCard) Doubt(key string) (mean, sd float64) {
	for _, t := range tapes {
		if t.question == key {
			mean, sd = Doubt(*t.of(&c), c.TakenBy)
			return mean, max(sd, c.Sources[key].Doubt)
		}
	}
	return math.NaN(), math.NaN()
}

// Doubt is the same of an answer of kind Readings.
func (a Answer) Doubt() (mean, sd float64) {
	mean, sd = Doubt(a.Millimetres(), ByClient)
	return mean, max(sd, a.Source.Doubt)
}

// comes sets where the readings of a tape come from, and leaves other copies of the card as they are.
func (c *MeasureCard) comes(key string, from Source) {
	sources := map[string]Source{}
	for of, kept := range c.Sources {
		if of != key {
			sources[of] = kept
		}
	}
	if from != (Source{}) {
		sources[key] = from
	}
	if len(sources) == 0 {
		sources = nil
	}
	c.Sources = sources
}
