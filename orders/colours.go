package orders

// A Colour is one of our palette: told by its name, and shown as a swatch beside it. Screens differ, so
// a swatch is never more than a likeness.
type Colour struct {
	Value, Label string
	Swatch       string // #rrggbb; "" for what is no single colour
}

// The palette of outfits, from light to dark round the wheel. Our own choice.
var outfitColours = []Colour{
	{"white", "White", "#ffffff"}, {"ivory", "Ivory", "#f4ecd8"}, {"beige", "Beige", "#d6c2a1"},
	{"yellow", "Yellow", "#f1d152"}, {"gold", "Gold", "#b98d34"}, {"orange", "Orange", "#df7b2e"},
	{"coral", "Coral", "#ee8070"}, {"red", "Red", "#bb2a30"}, {"burgundy", "Burgundy", "#6c2034"},
	{"pale_pink", "Pale pink", "#f1c7cf"}, {"pink", "Pink", "#d9608f"}, {"lilac", "Lilac", "#b9a2d1"},
	{"purple", "Purple", "#5e3a80"}, {"pale_blue", "Pale blue", "#abcce6"}, {"blue", "Blue", "#2f62b1"},
	{"navy", "Navy", "#1d2b50"}, {"turquoise", "Turquoise", "#2b9c9c"}, {"sage", "Sage", "#a9b89a"},
	{"green", "Green", "#3a7b46"}, {"brown", "Brown", "#6a4529"}, {"grey", "Grey", "#85888b"},
	{"black", "Black", "#17171a"}, {"pattern", "Several, in a pattern", ""}, {None, "Not chosen yet", ""},
}

// The colours of hair. Our own choice, of the names in use.
var hairColours = []Colour{
	{"black", "Black", "#191512"}, {"dark_brown", "Dark brown", "#3b2a1f"}, {"brown", "Brown", "#5f4330"},
	{"light_brown", "Light brown", "#8d6b4b"}, {"red", "Red or auburn", "#8f4425"}, {"blonde", "Blonde", "#d3b47e"},
	{"grey", "Grey", "#8f8f8f"}, {"white", "White", "#ecebe7"}, {"other", "Another colour", ""},
}

// palettes are the colours of the questions that ask for some.
var palettes = map[string][]Colour{"outfit_colours": outfitColours, "hair_colour": hairColours}

func named(colours []Colour) []Option {
	options := make([]Option, len(colours))
	for i, c := range colours {
		options[i] = Option{c.Value, c.Label}
	}
	return options
}

// Swatch is the colour that an option stands for, as #rrggbb; "" for what is no single colour.
func (q Question) Swatch(value string) string {
	for _, c := range palettes[q.Key] {
		if c.Value == value {
			return c.Swatch
		}
	}
	return ""
}

// elasticFor says which elastic does not show in hair of a colour: the same, or one that is darker. Common
// practice.
var elasticFor = map[string]string{
	"black": "black", "dark_brown": "dark brown, or black", "brown": "brown, or dark brown", "light_brown": "light brown, or brown",
	"red": "auburn, or brown", "blonde": "blonde or beige, or light brown", "grey": "grey, or dark grey", "white": "white, or pale grey",
	"other": "the colour of the hair, or darker: hold the reel against it",
}
