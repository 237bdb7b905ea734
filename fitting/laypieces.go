package fitting

import (
	"fmt"
	"math"
	"slices"
)

// Piece is one thing to cut from the cloth: a circle, or a straight strip on the
// bias.
type Piece struct {
	Kind   PieceKind
	Width  Length // of the strip in the flat, or a circle's diameter
	Length Length // of the strip at its full width; 0 for a circle
	Ring   bool   // a strip's ends are cut on the thread and joined to each other; else they are square
	Seam   Length // of each edge of a join, across it
	Turn   Angle  // of a circle's front from the line across the cloth
	Room   Length // kept free all round
}

// PieceKind says what a piece is for.
type PieceKind string

// The kinds of pieces.
const (
	StripPiece    PieceKind = "strip"    // the brim's
	LipPiece      PieceKind = "lip"      // turned up inside the brim
	BindingPiece  PieceKind = "binding"  // of the base's rim, and of a single brim's edge
	BasePiece     PieceKind = "base"     // one layer
	TrimmingPiece PieceKind = "trimming" // a blank for leaves or loops
)

// LayerRule is how the base's layers lie on each other. Makers differ.
type LayerRule string

// The layer rules, all common practice. Empty means FourOneWay.
const (
	FourOneWay   LayerRule = "four one way"  // all with the bias in front
	ThreeTurned  LayerRule = "three turned"  // the second turned by 45 degrees, the third back in line
	TwoTurned    LayerRule = "two turned"    // the second turned by 45 degrees
	TwoStiffened LayerRule = "two stiffened" // both one way, with stiffener
)

// Turns are how each layer's front lies to the line across the cloth; none for a
// rule that is not known.
func (r LayerRule) Turns() []Angle {
	switch r {
	case "", FourOneWay:
		return []Angle{45, 45, 45, 45}
	case ThreeTurned:
		return []Angle{45, 0, 45}
	case TwoTurned:
		return []Angle{45, 0}
	case TwoStiffened:
		return []Angle{45, 45}
	}
	return nil
}

// Pieces are what is cut from the hat's cloth: the strip, a lip's strip, the
// bindings, the base's layers, and two blanks for a trimming unless it weighs
// nothing. What would be narrower than a millimetre is left out.
func (s Solution) Pieces(rule LayerRule, trim Mass) []Piece {
	r := s.Result
	rim := Length(math.Pi) * r.Base.Diameter
	pieces := []Piece{
		strip(StripPiece, r.Strip.FlatWidth, r.Strip.Length),
		strip(LipPiece, Length(r.Strip.Folds)*s.lip()*(1+stripFullness), Length(2*math.Pi*s.Brim.Inner.Radius)+stripLap),
		binding(rim),
	}
	if r.Strip.Folds == 1 {
		pieces = append(pieces, binding(r.Brim.edge()))
	}
	if trim > 0 {
		for range trimBlanks {
			pieces = append(pieces, strip(TrimmingPiece, trimWidth, trimLength))
		}
	}
	for _, turn := range rule.Turns() {
		pieces = append(pieces, Piece{Kind: BasePiece, Width: r.Base.CutDiameter, Turn: turn, Room: cuttingRoom})
	}
	return slices.DeleteFunc(pieces, func(p Piece) bool { return p.Width < leastPiece })
}

func strip(kind PieceKind, width, length Length) Piece {
	return Piece{Kind: kind, Width: width, Length: length, Seam: joinSeam, Room: cuttingRoom}
}

// binding runs round an edge and is joined to itself.
func binding(round Length) Piece {
	p := strip(BindingPiece, bindingWidth, round)
	p.Ring = true
	return p
}

// lip is how wide the lip is along its slope.
func (s Solution) lip() Length {
	up := s.Brim.Inner.Centre.Minus(s.Seat.Rim).Norm()
	return Length(math.Hypot(up, s.Brim.Inner.Radius-s.Seat.Radius))
}

// edge is how long the brim is round its outer edge.
func (p BrimPattern) edge() Length { return p.FlatOuterRadius * Length(p.Sector.Radians()) }

// checkPieces refuses what cannot be laid.
func checkPieces(pieces []Piece) error {
	const field = "cloth.pieces"
	if !(len(pieces) > 0 && len(pieces) <= mostPieces) {
		return Refusal{field, fmt.Sprintf("Between 1 and %d pieces can be laid at once.", mostPieces)}
	}
	for _, p := range pieces {
		for _, l := range []struct {
			what        string
			is          Length
			least, most Length
		}{
			{"The width of a piece", p.Width, leastPiece, mostPiece},
			{"The length of a piece", p.Length, 0, mostPiece},
			{"The seam of a piece", p.Seam, 0, mostSeam},
			{"The room round a piece", p.Room, 0, mostSeam},
		} {
			if err := within(field, l.what, l.is, l.least, l.most); err != nil {
				return err
			}
		}
	}
	return nil
}
