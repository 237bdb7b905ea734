package server

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"perchbook/fitting"
	"perchbook/orders"
)

// An onList is a value that a figure may take from a list, kept by its number.
type onList struct {
	Number float64
	Words  string
	Aside  string // said only where it is chosen
}

// layerWords say the layer rules at the bench.
var layerWords = map[fitting.LayerRule]string{
	fitting.FourOneWay: "four layers, all one way", fitting.ThreeTurned: "three layers, the middle one turned by 45°",
	fitting.TwoTurned: "two layers, one turned by 45°", fitting.TwoStiffened: "two layers one way, stiffened",
}

var anchorWords = map[fitting.Anchoring]string{
	fitting.AtFraction: "as far back as said above", fitting.AtEars: "nearest the ears", fitting.Steadiest: "where it holds steadiest",
}

// listed numbers what is chosen from a list from 1.
func listed[T ~string](list []T, words map[T]string) []onList {
	var all []onList
	for i, v := range list {
		all = append(all, onList{Number: float64(i + 1), Words: words[v]})
	}
	return all
}

// number is the place of a value in its list, from 1.
func number[T comparable](list []T, v T) float64 { return float64(slices.Index(list, v) + 1) }

// figuresOf are the figures of a hat: those that every hat has, and the roll and the reel where the workroom
// has some.
func figuresOf(f orders.Fitted) []figure {
	all := figures
	if len(f.Rolls) > 0 {
		all = append(slices.Clone(all), rollFigure(f.Rolls))
	}
	reels := f.Materials.Reels
	if len(reels) == 0 {
		return all
	}
	g := figure{
		Key: orders.ReelFigure, Name: "Elastic from the reel", Hint: "Its stretch follows from the pull that the hat needs.", Measure: inList, Rare: true,
		Usual: func(orders.Fitted) float64 { return float64(reels[0].Number) },
	}
	for _, r := range reels {
		g.List = append(g.List, onList{Number: float64(r.Number), Words: r.Name})
	}
	return append(slices.Clone(all), g)
}

// rollFigure is the roll of cloth that a hat is cut from.
func rollFigure(rolls []orders.Roll) figure {
	g := figure{
		Key: orders.RollFigure, Name: "Cloth from the roll", Hint: "Its width, weight and stretch are worked with, and signing reserves the length.", Measure: inList,
		Usual: func(orders.Fitted) float64 { return 0 }, Unsaid: "the usual cloth, no roll",
	}
	for _, r := range rolls {
		aside := ", " + metresOrShort(r.Free)
		if r.Free >= 0 {
			aside += " free"
		}
		if !r.PutAway.IsZero() {
			aside = ", put away"
		}
		g.List = append(g.List, onList{Number: float64(r.Number), Words: r.Named(), Aside: aside})
	}
	return g
}

// choices are the list to choose from, with what is typed.
func (g figure) choices(typed string) []stageChoice {
	all := []stageChoice{{"", cmp.Or(g.Unsaid, "as proposed"), typed == ""}}
	for _, v := range g.List {
		value := shortest(v.Number, 0)
		all = append(all, stageChoice{value, v.Words + v.Aside, value == typed})
	}
	return all
}

// pick reads a choice as the form sends it.
func (g figure) pick(typed string) (float64, string) {
	n, err := strconv.Atoi(typed)
	if err != nil || g.words(float64(n)) == "" {
		return 0, fmt.Sprintf("%s: choose one of the list.", g.Name)
	}
	return float64(n), ""
}

// words are those of a number in the list, "" for none.
func (g figure) words(n float64) string {
	for _, v := range g.List {
		if v.Number == n {
			return v.Words
		}
	}
	return ""
}

// reelSigned is the reel of a signed hat under the name that it had then.
func reelSigned(sh orders.FitSheet, in fitting.Input) orders.Materials {
	n, hers := sh.Figures[orders.ReelFigure]
	if !hers {
		return orders.Materials{}
	}
	return orders.Materials{Reels: []orders.Reel{{Number: int(n), Name: in.Learned.Reel}}}
}
