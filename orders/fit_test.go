package orders

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
)

func TestWhatTheEngineIsTold(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{
		"ear_to_ear": "350.0 352.0", "face": "heart", "glasses": "yes", "height": "1680.0", "hair_worn": "knot", "knot": "crown", "grip": "fine",
		"parting": "left", "outdoors": "indoors", "rule": "four_in", "side": "left", "presence": "bold", "brim": "down",
	})
	f, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	in := f.Input
	assert.InDelta(t, 571, in.Measures.Girth.Millimetres(), 1e-9, "the mean of the readings")
	assert.InDelta(t, 230, in.Measures.NapeToCrown.Millimetres(), 1e-9)
	assert.InDelta(t, 351, in.Measures.EarToEar.Millimetres(), 1e-9)
	assert.Nil(t, in.Measures.BrowToNape, "a tape that was not taken")
	assert.Nil(t, in.Measures.HeadLength)
	assert.Equal(t, fitting.Client, in.Measures.TakenBy)
	assert.Equal(t, 3, in.Measures.Readings, "readings of each needed tape")
	assert.InDelta(t, math.Sqrt((4*9.0+2+2+2)/(4+2+2+1)), in.Measures.Repeat.Millimetres(), 1e-9, "readings a millimetre apart are trusted a little more than usual ones")
	assert.Equal(t, fitting.Face{Shape: fitting.Heart}, in.Face)
	assert.Equal(t, fitting.Hair{Worn: fitting.HairUp, Knot: fitting.KnotOnTop, Parting: fitting.PartedLeft, Grip: fitting.FineHair}, in.Hair)
	assert.True(t, in.Wearer.Glasses)
	assert.InDelta(t, 1680, in.Wearer.Height.Millimetres(), 1e-9)
	assert.Equal(t, "races", in.Occasion.Kind)
	assert.False(t, in.Occasion.Outdoors, "she says indoors, whatever races are like")
	assert.InDelta(t, 101.6, in.Occasion.LeastBase.Millimetres(), 1e-9, "four inches")
	assert.Equal(t, fitting.Wish{Side: fitting.Left, Presence: fitting.Bold, Brim: fitting.Down}, in.Wish)
	assert.Equal(t, fitting.Hat{}, in.Hat, "the engine chooses the hat")
}

func TestUnsureAndSkippedAnswersTellTheEngineNothing(t *testing.T) {
	in := inputOf(Answers{
		"face": {Value: "unsure"}, "glasses": {}, "height": {}, "rule": {Value: "unsure"}, "side": {Value: "any"}, "brim": {Value: "any"},
		"hair_day": {Value: "unsure"}, "knot": {Value: "left"}, "occasion": {Value: "wedding"},
	}, MeasureCard{Girth: []float64{570}, NapeToCrown: []float64{230}, TakenBy: ByMaker}, firstStudio())
	girth, nape := fitting.Length(570), fitting.Length(230)
	assert.Equal(t, fitting.Input{
		Measures: fitting.Measures{Girth: &girth, NapeToCrown: &nape, TakenBy: fitting.Maker, Readings: 1, Sex: fitting.SexUnknown},
		Hair:     fitting.Hair{Thickness: 3},
		Occasion: fitting.Occasion{Kind: "wedding"}, Workroom: fitting.Workroom{Side: fitting.Right},
	}, in)
}

func TestHairThickness(t *testing.T) {
	for name, given := range map[string]struct {
		answers Answers
		mm      fitting.Length
	}{
		"up":                               {Answers{"hair_day": {Value: "up"}}, 0},
		"down":                             {Answers{"hair_day": {Value: "down"}}, 3},
		"not known":                        {Answers{"hair_day": {Value: "unsure"}}, 3},
		"short, said later":                {Answers{"hair_day": {Value: "down"}, "hair_worn": {Value: "short"}}, 0},
		"plaits":                           {Answers{"hair_day": {Value: "down"}, "hair_worn": {Value: "plaits"}}, 10},
		"thick":                            {Answers{"hair_day": {Value: "down"}, "thickness": {Value: "thick"}}, 6},
		"thickness goes before how worn":   {Answers{"hair_worn": {Value: "plaits"}, "thickness": {Value: "short"}}, 0},
		"dressing goes before up and down": {Answers{"hair_day": {Value: "up"}, "hair_worn": {Value: "loose"}}, 3},
	} {
		assert.Equal(t, given.mm, hairThickness(given.answers), name)
	}
}

func TestTheWorkroomsCustomsAreTold(t *testing.T) {
	st := firstStudio()
	st.SideByTradition, st.Blocks = "left", []float64{100, 117.5}
	in := inputOf(Answers{}, MeasureCard{}, st)
	assert.Equal(t, fitting.Workroom{Blocks: []fitting.Length{100, 117.5}, Side: fitting.Left}, in.Workroom)
	assert.Empty(t, in.Wish.Side, "a custom is no wish of hers")
	assert.Equal(t, fitting.Right, inputOf(Answers{"side": {Value: "right"}}, MeasureCard{}, st).Wish.Side, "her wish")
}

func TestEveryOptionIsOneTheEngineKnows(t *testing.T) {
	for key, known := range map[string]func(value string) bool{
		"thickness": func(v string) bool { _, ok := thicknesses[v]; return ok },
		"hair_worn": func(v string) bool { _, ok := dressed[v]; return ok || v == "unsure" },
		"rule":      func(v string) bool { return leastBase[v] != nil || v == "none" || v == "unsure" },
		"knot":      func(v string) bool { return knotNames[v] != "" || v == "left" || v == "right" },
		"face": func(v string) bool {
			face := faceOf(Answers{"face": {Value: v}, "face_jaw": {Value: "112.0"}, "face_points": {Value: "1.380 0.770 0.820"}})
			return v == "unsure" || face != fitting.Face{}
		},
		"presence": func(v string) bool {
			return inputOf(Answers{"presence": {Value: v}}, MeasureCard{}, Studio{}).Wish.Presence != ""
		},
		"grip": func(v string) bool {
			return v == "unsure" || inputOf(Answers{"grip": {Value: v}}, MeasureCard{}, Studio{}).Hair.Grip != ""
		},
		"parting": func(v string) bool {
			return inputOf(Answers{"parting": {Value: v}}, MeasureCard{}, Studio{}).Hair.Parting != ""
		},
	} {
		q, there := Questions.Find(key)
		require.True(t, there, "the question %q is asked", key)
		for _, o := range q.Options {
			assert.True(t, known(o.Value), "%s: %q is asked and then lost", key, o.Value)
		}
	}
}

func TestWhatKeepsFromAProposal(t *testing.T) {
	s, _ := newStore(t)
	f, err := s.Fitted(ctx, sent(t, s, map[string]string{"girth": Later, "nape": Later}).ID)
	require.NoError(t, err)
	assert.Equal(t, []string{"girth", "nape"}, f.Missing, "both tapes are to come")
	assert.Zero(t, f.Proposal, "no proposal without tapes")

	f, err = s.Fitted(ctx, sent(t, s, map[string]string{"nape": Later}).ID)
	require.NoError(t, err)
	assert.Equal(t, []string{"nape"}, f.Missing)

	child := sent(t, s, map[string]string{"wearer": "child"})
	_, err = s.AddCard(ctx, MeasureCard{CommissionID: child.ID, TakenBy: ByMaker, Girth: []float64{520}, NapeToCrown: []float64{205}})
	require.NoError(t, err)
	f, err = s.Fitted(ctx, child.ID)
	require.NoError(t, err)
	assert.True(t, f.Child, "a child's head is none the engine knows")
	assert.Empty(t, f.Missing, "nothing is asked for that would not be used")
	assert.Zero(t, f.Proposal)

	f, err = s.Fitted(ctx, sent(t, s, map[string]string{"nape": "320.0"}).ID)
	require.NoError(t, err)
	require.NotNil(t, f.Refusal, "a head that cannot be")
	assert.Equal(t, "measures.nape_to_crown_mm", f.Refusal.Field)
	assert.Equal(t, f.Refusal, f.Broken, "nothing can be settled either")
}

func TestFiguresAreLaidOverTheProposal(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	w, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: hat, Note: " low "})
	require.NoError(t, err)
	assert.Equal(t, Working{CommissionID: c.ID, Version: 1, Figures: hat, Note: "low"}, w)
	f, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	require.Nil(t, f.Broken, "her figures can be")
	assert.InDelta(t, 115, f.Settled.Result.Base.Diameter.Millimetres(), 1e-9)
	assert.InDelta(t, -22, f.Settled.Result.Placement.Sideways.Degrees(), 1e-9)
	assert.Equal(t, fitting.Right, f.Settled.Result.Placement.Side)
	assert.Positive(t, f.Settled.Result.Elastic.Cut.Millimetres())
	assert.Nil(t, f.Input.Hat.Base, "the proposal is asked for without them")

	w.Figures = map[string]float64{"hat.base_mm": 300}
	for name, x := range hat {
		if _, set := w.Figures[name]; !set {
			w.Figures[name] = x
		}
	}
	_, err = s.SaveWorking(ctx, w)
	require.NoError(t, err, "figures that cannot be made are kept, and said to be so")
	f, err = s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	require.NotNil(t, f.Broken, "a base as large as the head")
	assert.Equal(t, "hat.base_mm", f.Broken.Field)
}

func TestFiguresThatAreNone(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	for name, x := range map[string]float64{
		"hat.colour": 1, "hat.base_mm": math.NaN(), "hat.forward_deg": math.Inf(1), "hat.folds": 3, "elastic.knot_mm": -1,
	} {
		_, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: map[string]float64{name: x}})
		problem(t, err, name)
	}
	_, err := s.SaveWorking(ctx, Working{CommissionID: newID()})
	require.ErrorIs(t, err, ErrNotFound)
}

// Every name in the table must be one that the engine's contract has, and reach that place in it.
func TestOverridesAreNamedAsInTheContract(t *testing.T) {
	for name, o := range overrides {
		var in fitting.Input
		x := o.most
		o.set(&in, x)
		blob, err := json.Marshal(in)
		require.NoError(t, err)
		var parts map[string]map[string]any
		require.NoError(t, json.Unmarshal(blob, &parts))
		found := map[string]any{}
		for part, fields := range parts {
			for field, value := range fields {
				found[part+"."+field] = value
			}
		}
		want := map[string]any{name: x}
		switch name {
		case "wish.presence":
			want[name] = string(Presences[int(x)-1])
		case "hat.layers":
			want[name] = string(LayerRules[int(x)-1])
		case "hat.anchor":
			want[name] = string(Anchorings[int(x)-1])
		}
		require.Equal(t, want, found, "the override lands elsewhere")
	}
}

func TestAProposalLandsOnABlockSheOwns(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{"rule": "four_in"})
	free, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	require.Nil(t, free.Refusal, "there is a proposal")
	wanted := free.Proposal.Result.Base.Diameter.Millimetres()
	require.GreaterOrEqual(t, wanted, 101.6, "the rule is kept")
	st := firstStudio()
	st.Blocks = []float64{60, wanted + 3, 280}
	st, err = s.SaveStudio(ctx, st)
	require.NoError(t, err)
	f, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	assert.InDelta(t, wanted+3, f.Proposal.Result.Base.Diameter.Millimetres(), 1e-9, "it lands on her block")
	assert.Equal(t, "the workroom's own blocks", f.Proposal.Result.Reasons[0].Source, "and says so")
	assert.Equal(t, f.Proposal.Result.Base, f.Settled.Result.Base, "without figures the proposal is settled on")

	st.Blocks = []float64{280} // none on which a hat can be had
	_, err = s.SaveStudio(ctx, st)
	require.NoError(t, err)
	f, err = s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	assert.InDelta(t, wanted, f.Proposal.Result.Base.Diameter.Millimetres(), 1e-9, "it stays freehand")
	assert.Nil(t, f.Proposal.Result.Base.Block)

	_, err = s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: map[string]float64{"hat.base_mm": wanted + 5}})
	require.NoError(t, err)
	f, err = s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	assert.InDelta(t, wanted+5, f.Settled.Result.Base.Diameter.Millimetres(), 1e-9, "her own figure stands, the rest is advised round it")
}

func TestAProposalIsSignedAsItIs(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	f, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	sheet, err := s.SignOff(ctx, c.ID, 0, "Wren", "she asked for it")
	require.NoError(t, err)
	_, out, err := sheet.Read()
	require.NoError(t, err)
	assert.Equal(t, f.Proposal.Result, out)
	assert.JSONEq(t, string(sheet.Proposal), string(sheet.Result), "proposed and settled are the same")
	assert.Empty(t, sheet.Figures)
}
