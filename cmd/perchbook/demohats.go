package main

import (
	"time"

	"perchbook/fitting"
	"perchbook/orders"
)

const (
	day  = 24 * time.Hour
	week = 7 * day
)

// A demoHat is what happened to one invented commission, told in days before the present.
type demoHat struct {
	name, reach string
	door        string
	begun       time.Duration       // ago
	worn        time.Duration       // ahead; 0 for a day that is not fixed
	answers     map[string]string   // as she typed or chose them, beside the usual ones
	taped       *orders.MeasureCard // by the maker, two days after
	settled     map[string]float64  // figures of the milliner's own; none signs the proposal as it is
	note        string              // on the fit sheet
	stages      []orders.Stage      // entered one after the other after she sent it
	hours       []demoHour
	talk        []string // letters in turn, the client's first; by chat only
	wrote       string   // a letter of the milliner's
	unsent      bool
	unpaid      bool // the deposit is still to come
	noted       *demoNote
}

// A demoNote is the fitting note of a hat: how it came out against its fit sheet.
type demoNote struct {
	ago           time.Duration
	letOut        fitting.Length // the elastic, against the sheet
	forward       fitting.Angle  // the base, against the sheet
	changed, said string
	comfort, hold int // of orders.Comforts and orders.Holds
}

// A demoHour is an appointment: the first hour free from so long before (negative) or after the
// present, and what became of it.
type demoHour struct {
	kind, place string
	from        time.Duration
	state       string
	wish        string
}

// All of them are invented, names and addresses too.
var demoHats = []demoHat{
	{
		name: "Pomona Thistledown", reach: "pomona@thistledown.example", door: orders.DoorWeb, begun: 2 * day, worn: 26 * week,
		answers: map[string]string{"occasion": "wedding", "girth": orders.Later, "nape": orders.Later, "hair_day": "unsure", "hair_measured": "unsure",
			"outfit_colours": "sage, ivory", "outfit": "A sage green coat dress, and nothing else chosen yet."},
		hours: []demoHour{{orders.Consultation, orders.InPerson, 3 * day, orders.Booked, ""}},
		wrote: "A sage green coat dress is a lovely place to begin. Bring a thread or a swatch of it, and we will look at cloth together.",
	},
	{
		name: "Hester Lanternby", reach: "01632 960 417", door: orders.DoorWeb, begun: day, worn: 15 * week,
		answers: map[string]string{"wearer": "child", "occasion": "garden_party", "outfit": "She is nine and will be in yellow, whatever we say."},
	},
	{
		name: "Odile Mackerel", reach: "odile@mackerel.example", door: orders.DoorRehearsal, begun: 3 * day, worn: 10 * week,
		answers: map[string]string{"occasion": "races", "girth": "56,5 cm; 56.8; 56.6", "nape": "22,8; 23; 22.9", "hair_day": "up", "hair_worn": "knot",
			"knot": "nape", "rule": "four_in", "outdoors": "outdoors", "face": "oval", "photographs": "swatch", "side": "right", "presence": "bold", "brim": "up",
			"outfit_colours": "blue, white", "outfit_shade": "cornflower, a little greyed", "hair_colour": "light_brown"},
		talk: []string{"May I bring the dress when I come? It is a very particular blue.",
			"Please do, and the shoes if you have them. By daylight, if you can."},
	},
	{
		name: "Bryony Saltcote", reach: "bryony@saltcote.example", door: orders.DoorWeb, begun: 4 * day, worn: 0,
		answers: map[string]string{"occasion": "evening", "girth": "22 1/4 in; 22 3/8 in; 22 1/4 in", "nape": "9 in; 8 7/8 in; 9 in", "hair_day": "down",
			"hair_measured": "no", "face": "round", "glasses": "yes"},
	},
	{
		name: "Clover Fennimere", reach: "clover@fennimere.example", door: orders.DoorRehearsal, begun: 9 * day, worn: 12 * week,
		answers: map[string]string{"occasion": "races", "girth": "57; 57.2; 57.1", "nape": "23; 23.1; 22.9", "hair_day": "up", "rule": "ten_cm",
			"outdoors": "outdoors", "face": "heart", "parting": "left", "presence": "balanced", "hair_colour": "dark_brown"},
		stages: []orders.Stage{orders.Proposed},
		talk: []string{"Could it be a little closer to the brow than on the drawing?", "Yes. I will draw it again on Thursday, and we can try it on at the fitting.",
			"Thursday suits me. And would a quill be too much for a small brim?"},
	},
	{
		name: "Maud Pennywhistle", reach: "maud@pennywhistle.example", door: orders.DoorRehearsal, begun: 16 * day, worn: 9 * week,
		answers: map[string]string{"occasion": "wedding", "girth": "55; 55.3; 55.1", "nape": "22; 22.2; 22.1", "hair_day": "up", "hair_worn": "short",
			"outdoors": "both", "face": "long", "side": "left", "presence": "balanced", "height": "162 cm"},
		settled: map[string]float64{"cloth.roll": 2, "hat.base_mm": 110, "hat.forward_deg": 20, "hat.sideways_deg": 18, "hat.brim_width_mm": 55, "hat.brim_slope_deg": 58},
		note:    "Left side: her parting and the photographer both want it.",
		stages:  []orders.Stage{orders.Proposed, orders.Agreed},
		unpaid:  true,
		talk:    []string{"The drawing is exactly it. When do I pay the deposit?", "I am so glad. The sum and how to pay are in the letter that comes with this."},
	},
	{
		name: "Tansy Oakapple", reach: "01632 960 733", door: orders.DoorWeb, begun: 30 * day, worn: 6 * week,
		answers: map[string]string{"occasion": "races", "girth": "58; 57,8; 58,1", "nape": "23.4; 23.2; 23.5", "hair_day": "down", "thickness": "thick",
			"rule": "four_in", "outdoors": "outdoors", "face": "square", "presence": "bold", "brim": "up", "hair_colour": "red"},
		taped:   &orders.MeasureCard{Girth: []float64{577, 578}, NapeToCrown: []float64{232, 233}, HeadLength: 192, HeadBreadth: 149, Note: "Taken at the consultation, hair down."},
		settled: map[string]float64{"cloth.roll": 2, "hat.base_mm": 120, "hat.forward_deg": 25, "hat.sideways_deg": -30, "hat.brim_width_mm": 80, "hat.brim_slope_deg": 60},
		stages:  []orders.Stage{orders.Proposed, orders.Agreed, orders.InHand},
		hours: []demoHour{{orders.Consultation, orders.InPerson, -26 * day, orders.Confirmed, ""},
			{orders.Fitting, orders.InPerson, 5 * day, orders.MoveAsked, "Could it be later in the week, after three?"}},
	},
	{
		name: "Isolde Ternhaven", reach: "isolde@ternhaven.example", door: orders.DoorRehearsal, begun: 40 * day, worn: 4 * week,
		answers: map[string]string{"occasion": "wedding", "girth": "56; 56.2; 56.1", "nape": "22.4; 22.5; 22.4", "hair_day": "up", "hair_worn": "knot", "knot": "back",
			"outdoors": "indoors", "face": "oval", "presence": "quiet", "side": "right"},
		settled: map[string]float64{"cloth.roll": 1, "hat.base_mm": 105, "hat.forward_deg": 22, "hat.sideways_deg": -24, "hat.brim_width_mm": 45, "hat.brim_slope_deg": 58},
		stages:  []orders.Stage{orders.Proposed, orders.Agreed, orders.InHand, orders.InFitting},
		hours:   []demoHour{{orders.Fitting, orders.InPerson, 2 * day, orders.Confirmed, ""}},
		talk:    []string{"I have confirmed. May my sister come too?", "She is welcome, there are two chairs."},
	},
	{
		name: "Sabine Driftmoor", reach: "sabine@driftmoor.example", door: orders.DoorWeb, begun: 52 * day, worn: 3 * week,
		answers: map[string]string{"occasion": "garden_party", "girth": "59; 59.2; 59.1", "nape": "23.8; 23.6; 23.7", "hair_day": "up", "outdoors": "outdoors",
			"face": "pear", "presence": "balanced", "brim": "down"},
		settled: map[string]float64{"cloth.roll": 2, "hat.base_mm": 130, "hat.forward_deg": 15, "hat.sideways_deg": -20, "hat.brim_width_mm": 65, "hat.brim_slope_deg": 50},
		stages:  []orders.Stage{orders.Proposed, orders.Agreed, orders.InHand, orders.InFitting, orders.Finishing, orders.InFitting, orders.Finishing},
		hours: []demoHour{{orders.Fitting, orders.InPerson, -5 * day, orders.Confirmed, ""},
			{orders.Collection, orders.InPerson, 6 * day, orders.Booked, ""}},
		noted: &demoNote{ago: 4 * day, letOut: 6 * fitting.Millimetre, forward: 3, changed: "Base moved a little towards the brow; elastic let out.", said: "Now I forget that it is there.", comfort: 0, hold: 0},
	},
	{
		name: "Juniper Ashlark", reach: "juniper@ashlark.example", door: orders.DoorWeb, begun: 60 * day, worn: 2 * week,
		answers: map[string]string{"occasion": "ceremony", "girth": "54.5; 54.6; 54.4", "nape": "21.8; 21.9; 21.8", "hair_day": "down", "hair_worn": "plaits",
			"knot": "none", "face": "round", "presence": "quiet", "post_address": "Ashlark Cottage, Upper Saltmere"},
		settled: map[string]float64{"cloth.roll": 1, "hat.base_mm": 100, "hat.forward_deg": 20, "hat.sideways_deg": -20, "hat.brim_width_mm": 40, "hat.brim_slope_deg": 55, "elastic.knot_mm": 20},
		stages:  []orders.Stage{orders.Proposed, orders.Agreed, orders.InHand, orders.InFitting, orders.Finishing, orders.Ready},
		hours: []demoHour{{orders.Fitting, orders.ByVideo, -12 * day, orders.Confirmed, ""},
			{orders.Collection, orders.InPerson, day, orders.Confirmed, ""}},
		noted: &demoNote{ago: 11 * day, letOut: 11 * fitting.Millimetre, changed: "Elastic let out.", comfort: 1, hold: 0},
	},
	{
		name: "Perdita Quillon", reach: "perdita@quillon.example", door: orders.DoorRehearsal, begun: 110 * day, worn: -10 * day,
		answers: map[string]string{"occasion": "races", "girth": "56.5; 56.4; 56.6", "nape": "22.6; 22.7; 22.6", "hair_day": "up", "rule": "ten_cm",
			"outdoors": "outdoors", "face": "heart", "presence": "bold"},
		settled: map[string]float64{"cloth.roll": 1, "hat.base_mm": 115, "hat.forward_deg": 24, "hat.sideways_deg": -28, "hat.brim_width_mm": 75, "hat.brim_slope_deg": 60},
		stages:  []orders.Stage{orders.Proposed, orders.Agreed, orders.InHand, orders.InFitting, orders.Finishing, orders.Ready, orders.HandedOver},
		hours:   []demoHour{{orders.Fitting, orders.InPerson, -40 * day, orders.Confirmed, ""}, {orders.Collection, orders.InPerson, -17 * day, orders.Confirmed, ""}},
		noted:   &demoNote{ago: 39 * day, letOut: 8 * fitting.Millimetre, forward: 2, changed: "Elastic let out by the width of a finger.", said: "It feels safe.", comfort: 0, hold: 0},
		talk:    []string{"It did not move all day, and there was wind. Thank you!", "That is the best letter of the week. Thank you for writing."},
	},
	{
		name: "Marigold Thimblefold", reach: "marigold@thimblefold.example", door: orders.DoorWeb, begun: 26 * time.Hour, worn: 5 * week,
		answers: map[string]string{"occasion": "garden_party", "girth": "56; 56.3; 56.2", "nape": "22.5; 22.6; 22.5", "hair_day": "up", "outdoors": "outdoors",
			"face": "oval", "presence": "balanced", "outfit": "Marigold yellow, of course. I know that it is late."},
	},
	{
		name: "Cressida Windlass", reach: "cressida@windlass.example", door: orders.DoorWeb, begun: 20 * day, worn: 8 * week,
		answers: map[string]string{"occasion": "wedding", "girth": "57; 57.2; 57.1", "nape": "23; 22.9; 23", "hair_day": "up", "outdoors": "both", "face": "round",
			"presence": "balanced", "hair_colour": "black", "post_address": "4 Capstan Steps, Nether Saltmere"},
		settled: map[string]float64{"cloth.roll": 3, "hat.base_mm": 110, "hat.forward_deg": 20, "hat.sideways_deg": -22, "hat.brim_width_mm": 60, "hat.brim_slope_deg": 56},
		stages:  []orders.Stage{orders.Proposed, orders.Agreed},
	},
	{
		name: "Philippa Rushlight", reach: "01632 960 288", door: orders.DoorWeb, begun: 34 * day, worn: 5 * week,
		answers: map[string]string{"occasion": "races", "girth": "55.5; 55.6; 55.4", "nape": "22.2; 22.1; 22.3", "hair_day": "up", "rule": "four_in", "outdoors": "outdoors",
			"face": "oval", "presence": "bold", "brim": "up"},
		settled: map[string]float64{"cloth.roll": 3, "hat.base_mm": 115, "hat.forward_deg": 22, "hat.sideways_deg": -26, "hat.brim_width_mm": 70, "hat.brim_slope_deg": 58},
		note:    "Two layers at the brim; she wants it crisp.",
		stages:  []orders.Stage{orders.Proposed, orders.Agreed, orders.InHand},
		hours:   []demoHour{{orders.Fitting, orders.InPerson, 40 * time.Minute, orders.Confirmed, ""}},
	},
	{
		name: "Lorna Wickerby", reach: "lorna@wickerby.example", door: orders.DoorWeb, begun: 45 * day, worn: 8 * week,
		answers: map[string]string{"occasion": "wedding", "girth": "57.5; 57.4; 57.6", "nape": "23; 23; 23.1", "hair_day": "up"},
		settled: map[string]float64{"cloth.roll": 3, "hat.base_mm": 110, "hat.forward_deg": 18, "hat.sideways_deg": -22, "hat.brim_width_mm": 60, "hat.brim_slope_deg": 55},
		stages:  []orders.Stage{orders.Proposed, orders.Withdrawn},
		hours:   []demoHour{{orders.Fitting, orders.InPerson, 9 * day, orders.Booked, ""}},
	},
	{
		name: "Ottilie Brackwater", reach: "ottilie@brackwater.example", door: orders.DoorWeb, begun: 120 * day, worn: -20 * day,
		answers: map[string]string{"occasion": "evening", "girth": "56; 56; 56.1", "nape": orders.Later, "hair_day": "down"},
		stages:  []orders.Stage{orders.Lapsed},
	},
	{
		name: "Fenella Marrowby", reach: "fenella@marrowby.example", door: orders.DoorWeb, begun: 3 * time.Hour, unsent: true,
		answers: map[string]string{"occasion": "races", "girth": "57; 57.3; 57.1"},
	},
}
