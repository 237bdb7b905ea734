package orders

// What a client may add then or later. Sides are always her own: "your own right".

var aboutTheDay = Intake{
	{
		Key: "occasion_words", Page: "occasion_words", Part: "The day", Kind: Text, Max: 400,
		Label: "Is there more to say about the occasion?",
		Short: "About the occasion",
		Hint:  "Where it is, what part you have in it, who else wears a hat.",
		Why:   "A mother of the bride and a guest do not want the same hat.",
	},
	{
		Key: "time_of_day", Page: "time_of_day", Part: "The day", Kind: Choice,
		Label: "At what time of day will you wear it?",
		Short: "Time of day",
		Hint:  "When most of it happens.",
		Why:   "By custom hats grow smaller as the day goes on.",
		Options: []Option{
			{"morning", "Morning"}, {"afternoon", "Afternoon"}, {"evening", "Evening"},
			{"all_day", "From morning to evening"}, {"unsure", "I don't know yet"},
		},
	},
	{
		Key: "hours", Page: "hours", Part: "The day", Kind: Number, Min: 1, Max: 24,
		Label: "For how many hours will you wear it?",
		Short: "How many hours",
		Hint:  "A whole number; a guess will do.",
		Why:   "For a long day the hat is kept lighter.",
	},
	{
		Key: "outdoors", Page: "outdoors", Part: "The day", Kind: Choice,
		Label: "Will you be indoors or outdoors?",
		Short: "Indoors or out",
		Hint:  "Where you will be with the hat on.",
		Why:   "Outdoors it must stand up to wind.",
		Options: []Option{
			{"indoors", "Indoors"}, {"outdoors", "Outdoors"}, {"both", "Both"}, {"unsure", "I don't know yet"},
		},
	},
	{
		Key: "rule", Page: "rule", Part: "The day", Kind: Choice,
		Label: "Does the event say how small a hat may be?",
		Short: "Smallest hat allowed",
		Hint: "It would be on the invitation or in the dress code. The base is the part that sits on the head. " +
			"Rules change from year to year, so look at this year's.",
		Why: "Some enclosures turn away a small hat whose base is less than a set width.",
		Options: []Option{
			{"none", "No rule"}, {"ten_cm", "A base of 10 cm or more"}, {"four_in", "A base of 4 inches or more"},
			{"unsure", "I don't know"},
		},
	},
	{
		Key: "rule_words", Page: "rule_words", Part: "The day", Kind: Text, Max: 600,
		Label: "What does the dress code say about hats?",
		Short: "Words of the dress code",
		Hint:  "Copy the sentence as it stands, with the year if you see one.",
		Why:   "The exact words settle doubts.",
	},
	{
		Key: "outfit_colours", Page: "outfit_colours", Part: "The day", Kind: Choices,
		Label:   "Which colours will you wear with it?",
		Short:   "Colours of the outfit",
		Hint:    "The nearest, as many as you like. Screens show colours a little differently, so the names count.",
		Why:     "The hat is dyed, covered or trimmed to go with them.",
		Options: named(outfitColours),
	},
	{
		Key: "outfit_shade", Page: "outfit_colours", Part: "The day", Kind: Text, Max: 80,
		Label: "What would you call the colour yourself?",
		Short: "Shade of the outfit",
		Hint:  "Such as “the green of a pear”, or the name or number on the label.",
		Why:   "A name of your own, or the maker’s, is nearer than any list.",
	},
	{
		Key: "outfit", Page: "outfit", Part: "The day", Kind: Text, Max: 400,
		Label: "What will you wear with it?",
		Short: "Outfit",
		Hint:  "Cloth, the neckline, shoes and bag; say if nothing is chosen yet.",
		Why:   "The hat is one part of a picture.",
	},
}

var aboutTheHead = Intake{
	{
		Key: "brow_to_nape", Page: "brow_to_nape", Part: "Your head", Kind: Readings, Min: 280, Max: 550, Picture: "brow_to_nape",
		Label: "How far is it from the forehead over the crown to the nape?",
		Short: "Brow to nape",
		Hint: "Begin in the middle of the forehead where the tape round your head lay, go straight back over the crown " +
			"and down to the nape. Three times, as before.",
		Why:  "It tells how long and how tall your head is.",
		Only: grownUp,
	},
	{
		Key: "face", Page: "face", Part: "Your head", Kind: Choice, Picture: "face", Advised: true,
		Label: "Which outline is most like your face?",
		Short: "Outline of the face",
		Hint: "Hair pulled back, look straight into a mirror, and compare forehead, cheeks and jaw. None is better than another. " +
			"If you would rather measure, choose tapes or points: they tell more.",
		Why: "It helps to choose the tilt, the height and the width.",
		Options: []Option{
			{"oval", "Oval"}, {"round", "Round"}, {"long", "Long"}, {"square", "Square"},
			{"heart", "Heart: wide above, narrow at the chin"}, {"pear", "Pear: narrow above, wide at the jaw"},
			{byTapes, "I’ll lay a tape four times instead"}, {byPoints, "I’ll mark six points on a picture of me instead"},
			{"unsure", "I can't tell"},
		},
	},
	{
		Key: "face_length", Page: "face_tapes", Part: "Your head", Kind: Length, Min: 120, Max: 270, Picture: "face_tapes",
		Label: "How long is your face, from hairline to chin?",
		Short: "Hairline to chin",
		Hint:  "Straight down, in the middle. Where there is no hairline, from where the forehead bends back.",
		Why:   "A hat can make a short face longer and a long one shorter.",
		Only:  If{Key: "face", Is: []string{byTapes}},
	},
	{
		Key: "face_cheekbones", Page: "face_tapes", Part: "Your head", Kind: Length, Min: 95, Max: 200,
		Label: "How wide is it at the cheekbones?",
		Short: "Across the cheekbones",
		Hint:  "Where it is widest, a little below the eyes. Hold the tape straight before the face, not round it, and look into a mirror.",
		Why:   "The other three are weighed against it.",
		Only:  If{Key: "face", Is: []string{byTapes}},
	},
	{
		Key: "face_forehead", Page: "face_tapes", Part: "Your head", Kind: Length, Min: 70, Max: 200,
		Label: "How wide is the forehead?",
		Short: "Across the forehead",
		Hint:  "Above the ends of the eyebrows, where the bone turns towards the temples. Held straight again.",
		Why:   "It tells a heart from a pear.",
		Only:  If{Key: "face", Is: []string{byTapes}},
	},
	{
		Key: "face_jaw", Page: "face_tapes", Part: "Your head", Kind: Length, Min: 65, Max: 200,
		Label: "How wide is the jaw?",
		Short: "Across the jaw",
		Hint:  "From corner to corner, below the ears where the jaw turns up. Held straight again.",
		Why:   "It tells a round face from a square one.",
		Only:  If{Key: "face", Is: []string{byTapes}},
	},
	{
		Key: "face_points", Page: "face_points", Part: "Your head", Kind: Points, Picture: "face_points",
		Label: "Where are these six points on a picture of you?",
		Short: "Points on a picture",
		Hint: "Take a picture from straight ahead, hair off the face, chin level, the camera at the height of your eyes and two steps away: " +
			"held in your own hand it would make the face too long. A picture tells how the face is proportioned, never how large it is.",
		Why:  "Three proportions of the face help to choose the tilt, the height and the width. They are all that is sent.",
		Only: If{Key: "face", Is: []string{byPoints}},
	},
	{
		Key: "glasses", Page: "glasses", Part: "Your head", Kind: Choice,
		Label:   "Will you wear glasses or sunglasses?",
		Short:   "Glasses",
		Hint:    "On the day, with the hat on.",
		Why:     "The brim then turns up, clear of the frame.",
		Options: []Option{{"yes", "Yes"}, {"no", "No"}},
	},
	{
		Key: "height", Page: "height", Part: "Your head", Kind: Length, Min: 1200, Max: 2200,
		Label: "How tall are you?",
		Short: "Height",
		Hint:  "Such as 168 cm or 5 ft 6.",
		Why:   "A very wide brim can weigh down a short figure.",
		Only:  grownUp,
	},
}

var aboutTheHair = Intake{
	{
		Key: "hair_worn", Page: "hair_worn", Part: "Your hair", Kind: Choice,
		Label: "How will your hair be dressed?",
		Short: "How the hair is dressed",
		Hint:  "On the day, as far as you know.",
		Why:   "The hat must sit clear of a knot, and combs need something to hold.",
		Options: []Option{
			{"short", "Short"}, {"loose", "Loose"}, {"half_up", "Half up"}, {"tail", "Tied in a tail"},
			{"knot", "In a knot or rolled up"}, {"plaits", "In plaits or braids"}, {"unsure", "I don't know yet"},
		},
	},
	{
		Key: "knot", Page: "knot", Part: "Your hair", Kind: Choice,
		Label: "Where will the knot or the tie sit?",
		Short: "Where the knot sits",
		Hint:  "Where it stands out most.",
		Why:   "So that the base does not land on it.",
		Options: []Option{
			{"none", "There will be none"}, {"nape", "Low, at the nape"}, {"back", "In the middle of the back"},
			{"crown", "High, near the crown"}, {"left", "On my own left"}, {"right", "On my own right"},
		},
		Only: If{Key: "hair_worn", Is: []string{"half_up", "tail", "knot", "plaits"}},
	},
	{
		Key: "parting", Page: "parting", Part: "Your hair", Kind: Choice,
		Label: "Where is your parting?",
		Short: "Parting",
		Hint:  "Your own left or right, not the mirror's.",
		Why:   "The hat often goes to the side of the parting.",
		Options: []Option{
			{"left", "On my own left"}, {"middle", "In the middle"}, {"right", "On my own right"}, {"none", "I have none"},
		},
	},
	{
		Key: "thickness", Page: "thickness", Part: "Your hair", Kind: Choice,
		Label: "How thick is the hair at the back of your head?",
		Short: "Hair thickness",
		Hint:  "As it will be on the day.",
		Why:   "The elastic runs under it, next to the skin.",
		Options: []Option{
			{"short", "Short or put up: hardly anything there"}, {"down", "Ordinary hair, hanging down"},
			{"thick", "Thick hair"}, {"braided", "Braids or locks"},
		},
	},
	{
		Key: "grip", Page: "grip", Part: "Your hair", Kind: Choice,
		Label: "How does your hair hold a slide or a comb?",
		Short: "How the hair holds a comb",
		Hint:  "As it will be on the day, washed and dressed.",
		Why:   "Fine clean hair lets a hat slip, textured hair keeps it where it is. The elastic is worked to suit.",
		Options: []Option{
			{"fine", "It is fine, and a slide slips out"}, {"usual", "A slide mostly stays"},
			{"textured", "It is textured, and whatever is put in stays"}, {"unsure", "I can't tell"},
		},
	},
	{
		Key: "hair_colour", Page: "hair_colour", Part: "Your hair", Kind: Choice,
		Label:   "What colour will your hair be?",
		Short:   "Hair colour",
		Hint:    "The nearest will do.",
		Why:     "The elastic is chosen in the same colour or a little darker, so that it does not show.",
		Options: named(hairColours),
	},
}

var aboutTheHat = Intake{
	{
		Key: "side", Page: "side", Part: "Your wishes", Kind: Choice,
		Label:   "On which side would you like the hat?",
		Short:   "Which side",
		Hint:    "Your own right hand shows your own right.",
		Why:     "Most people have a side they like to show.",
		Options: []Option{{"right", "My own right"}, {"left", "My own left"}, {"any", "No wish"}},
	},
	{
		Key: "presence", Page: "presence", Part: "Your wishes", Kind: Choice,
		Label:   "How much should it be noticed?",
		Short:   "Quiet or striking",
		Hint:    "The studio can show you more than one.",
		Why:     "It sets how large and how tilted the hat is.",
		Options: []Option{{"quiet", "Quiet"}, {"balanced", "In between"}, {"bold", "Striking"}},
	},
	{
		Key: "brim", Page: "brim", Part: "Your wishes", Kind: Choice,
		Label:   "Should the brim turn up or down?",
		Short:   "Brim up or down",
		Hint:    "Up shows the face and is easier for greetings; down shades it. A brim can hide the road: take the hat off to drive or cycle.",
		Why:     "It changes what you see and how you are seen.",
		Options: []Option{{"up", "Up"}, {"down", "Down"}, {"any", "No wish"}},
	},
	{
		Key: "trimming", Page: "trimming", Part: "Your wishes", Kind: Choices,
		Label: "What may it be trimmed with?",
		Short: "Trimming",
		Hint:  "Choose as many as you like. There will be feathers only if you choose them.",
		Why:   "Trimming changes the weight, the balance and the price.",
		Options: []Option{
			{"flowers", "Flowers"}, {"leaves", "Leaves or loops of the hat's own cloth"}, {"ribbon", "Ribbon or a bow"},
			{"veil", "A veil"}, {"feathers", "Feathers"}, {None, "Nothing at all"},
		},
	},
	{
		Key: "trimming_side", Page: "trimming_side", Part: "Your wishes", Kind: Choice,
		Label:   "Where should the trimming sit?",
		Short:   "Where the trimming sits",
		Hint:    "Your own left or right, with the hat on.",
		Why:     "Weight on one side wants balance on the other.",
		Options: []Option{{"right", "On my own right"}, {"left", "On my own left"}, {"middle", "In the middle"}, {"any", "No wish"}},
	},
	{
		Key: "budget", Page: "budget", Part: "Your wishes", Kind: Text, Max: 80,
		Label: "What would you like to spend?",
		Short: "Budget",
		Hint:  "A sum or a range, with the currency. It binds neither of you.",
		Why:   "So that the studio proposes what you can say yes to.",
	},
	{
		Key: "suited", Page: "suited", Part: "Your wishes", Kind: Text, Max: 400,
		Label: "Which hats have suited you before?",
		Short: "Hats that suited you",
		Hint:  "Shape, colour, side; and what you did not like.",
		Why:   "What suited once is a good beginning.",
	},
}

var aboutTheRest = Intake{
	{
		Key: "health_consent", Page: "health_consent", Part: "Comfort and health", Kind: Consent,
		Label: "May the studio keep a note about your skin, scalp or hearing aid?",
		Short: "A note about health",
		Hint:  "Only if you want to tell something. It is kept for making this hat comfortable and can be erased by itself: a no, now or later, erases it.",
		Why:   "This is about health, so it needs a yes of its own.",
	},
	{
		Key: "health", Page: "health", Part: "Comfort and health", Kind: Text, Max: 400,
		Label: "What should the studio be careful with?",
		Short: "What to be careful with",
		Hint:  "Such as latex in elastic, scratchy straw, a tender scalp, a hearing aid behind the ear.",
		Why:   "Elastic can be had without latex, a lining can be added, and a path round the ear can be chosen.",
		Only:  If{Key: "health_consent", Is: []string{Yes}},
	},
	{
		Key: "faith_consent", Page: "faith_consent", Part: "Faith", Kind: Consent,
		Label: "May the studio keep a note about how you cover your head for your faith?",
		Short: "A note about faith",
		Hint:  "Only if you want to tell something. It is kept for making this hat suit you and can be erased by itself: a no, now or later, erases it.",
		Why:   "This is about faith, so it needs a yes of its own.",
	},
	{
		Key: "faith", Page: "faith", Part: "Faith", Kind: Text, Max: 400,
		Label: "What should the hat go with, or leave covered?",
		Short: "What to go with or leave covered",
		Hint:  "Such as a scarf or a wig under the hat, hair that is to stay covered, or a place where hats come off.",
		Why:   "A scarf under the hat changes its size and what holds it.",
		Only:  If{Key: "faith_consent", Is: []string{Yes}},
	},
	{
		Key: "photographs", Page: "photographs", Part: "Photographs and post", Kind: Photograph,
		Label: "Would you like to add photographs?",
		Short: "Photographs",
		Hint: "You from the front and from the side, with your hair as on the day, or the outfit. " +
			"Only the studio sees them.",
		Why: "A picture answers what words can't.",
	},
	{
		Key: "mirrored", Page: "mirrored", Part: "Photographs and post", Kind: Choice,
		Label: "Where is your own right side in the photographs?",
		Short: "Your own right in the photographs",
		Hint:  "Pictures taken with the front camera are often the wrong way round, as in a mirror.",
		Why:   "So that the hat does not go to the wrong side.",
		Options: []Option{
			{"no", "On the left of the picture, as others see me"}, {"yes", "On the right of the picture, as in a mirror"},
			{"unsure", "I can't tell"},
		},
		Only: If{Key: "photographs", Is: []string{Given}},
	},
	{
		Key: "post_address", Page: "post_address", Part: "Photographs and post", Kind: Text, Max: 300,
		Label: "Where should the hat be sent, if it goes by post?",
		Short: "Postal address",
		Hint:  "Name, street, town, postcode and country. Leave it out if you will fetch it.",
		Why:   "It is used for the parcel and for nothing else.",
	},
}
