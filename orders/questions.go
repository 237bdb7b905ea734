package orders

import "slices"

// Questions is the one list of questions; web page and chat both ask from it. First what a client
// must answer before she may send, with the tape that is offered among it; then what she may add then or later.
var Questions = slices.Concat(needed, aboutTheDay, aboutTheHead, aboutTheHair, aboutTheHat, aboutTheRest)

// The engine knows adult heads only, so a child's head is not measured here.
var grownUp = If{Key: "wearer", Is: []string{"me", "adult"}}

// Where the tapes run follows the model in package fitting; heights above brow and ear, tightness,
// string and ruler are common practice.
var needed = Intake{
	{
		Key: "privacy", Page: "privacy", Kind: Consent, Needed: true,
		Label: "May the studio keep your answers, to make your hat?",
		Short: "Privacy",
		Hint: "The studio keeps what you tell it, and any photographs you choose to add, on its own machine. " +
			"It uses them to design, make and fit your hat and to write to you about it, and for nothing else. " +
			"You can see your answers by your private link and ask the studio to correct or erase them at any time. " +
			"Nothing is kept until you agree.",
		Why: "Your name and your measurements are yours, so the studio asks before it keeps them.",
	},
	{
		Key: "wearer", Page: "you", Kind: Choice, Needed: true,
		Label: "Who will wear the hat?",
		Short: "Wearer",
		Hint: "If it is for someone else, your own name and how to reach you come next; all the other answers are about " +
			"the one who will wear it.",
		Why: "The sizes are worked out for grown heads only. For a child you leave the measuring to the studio, " +
			"and a parent or guardian gives the answers.",
		Options: []Option{
			{"me", "I will, and I am 18 or older"},
			{"adult", "Another adult, who knows that I am answering"},
			{"child", "A child, and I am the parent or guardian"},
		},
	},
	{
		Key: "name", Page: "you", Kind: Text, Max: 80, Needed: true,
		Label: "What is your name?",
		Short: "Name",
		Hint:  "Your own, as you would like the studio to call you, also when the hat is for someone else.",
		Why:   "So that the studio knows whom it is making for and how to speak to you.",
	},
	{
		Key: "reach", Page: "you", Kind: Reach, Needed: true,
		Label: "How can the studio reach you?",
		Short: "Reached by",
		Hint:  "One e-mail address or one telephone number is enough.",
		Why:   "The studio will have a question or two, and will want to agree a day for the fitting.",
	},
	{
		Key: "occasion", Page: "occasion", Kind: Choice, Needed: true,
		Label: "What is the hat for?",
		Short: "Occasion",
		Hint:  "Choose the nearest; you can say more later.",
		Why:   "Wind, greetings, photographs and rules about hats differ from one occasion to the next.",
		Options: []Option{
			{"races", "A day at the races"},
			{"wedding", "A wedding"},
			{"garden_party", "A garden party"},
			{"ceremony", "A ceremony, such as a naming or a graduation"},
			{"funeral", "A funeral or a day of remembrance"},
			{"evening", "An evening out"},
			{"other", "Something else"},
		},
	},
	{
		Key: "day", Page: "occasion", Kind: Date, Needed: true,
		Label: "On which day will you wear it?",
		Short: "Day",
		Hint:  "Day, month and year, such as 12 June 2027. If the day is not fixed yet, say so.",
		Why:   "The work is planned backwards from this day.",
	},
	{
		Key: "hair_day", Page: "hair_day", Kind: Choice, Needed: true,
		Label: "Will your hair be up or down on the day?",
		Short: "Hair on the day",
		Hint:  "If you can, wear it the same way while you measure. Take sharp pins and combs out first.",
		Why:   "Hair under the tape makes a head larger, and the elastic runs beneath it.",
		Options: []Option{
			{"up", "Up, or short"},
			{"down", "Down"},
			{"unsure", "I don't know yet"},
		},
		Only: grownUp,
	},
	{
		Key: "girth", Page: "girth", Kind: Readings, Min: 450, Max: 700, HatSizes: true, Needed: true, Picture: "girth",
		Label: "How far is it round your head?",
		Short: "Round the head",
		Hint: "Lay the tape level all the way: a thumb's breadth (2.5 cm, 1 in) above the eyebrows, a finger's breadth above " +
			"the ears, over the part at the back that stands out most. Snug, not tight: one finger should slide under it. " +
			"Take it off, lay it again and read it three times. No tape? Use string and lay it along a ruler; " +
			"the long edge of an A4 sheet is 29.7 cm. If you can't, the studio will measure you.",
		Why:  "It sets the size of everything. One reading alone may be nearly a centimetre out; three agree on the truth.",
		Only: grownUp,
	},
	{
		Key: "nape", Page: "nape", Kind: Readings, Min: 150, Max: 350, Needed: true, Picture: "nape",
		Label: "How far is it from the nape up to the crown?",
		Short: "Nape to crown",
		Hint: "Sit with your chin level. The crown is where a ruler laid level on your head touches it. The nape is the hollow " +
			"under the back edge of the skull, above the neck: slide a finger up the middle of your neck until it meets bone. " +
			"Lay the tape from there straight up the middle of the back of the head to the crown. Three times again. " +
			"This is easier with a helper; if you can't, the studio will measure you.",
		Why:  "The elastic passes from the hat to the nape. This tape tells how tall the head is, and so how long the elastic must be.",
		Only: grownUp,
	},
	{
		Key: "ear_to_ear", Page: "ear_to_ear", Part: "Your head", Kind: Readings, Min: 250, Max: 450, Picture: "ear_to_ear", Advised: true, Offered: true,
		Label: "How far is it from ear to ear, over the crown?",
		Short: "Ear to ear",
		Hint: "From the notch just above the small flap in front of one ear hole, straight up over the crown, " +
			"down to the same notch on the other side. Three times, as before.",
		Why:  "This tape checks the other two. If you take only one more, take this one.",
		Only: grownUp,
		Also: []If{{Key: "girth", Is: []string{Taken}}},
	},
	{
		Key: "hair_measured", Page: "hair_measured", Kind: Choice, Needed: true,
		Label: "Was your hair that way when you measured?",
		Short: "Hair when measured",
		Hint:  "It is fine if it was not.",
		Why:   "Then the studio knows how far to trust the two tapes.",
		Options: []Option{
			{"yes", "Yes, as on the day"},
			{"no", "No, it was different"},
			{"unsure", "I'm not sure"},
		},
		Only: grownUp,
		Also: []If{{Key: "hair_day", Is: []string{"up", "down"}}, {Key: "girth", Is: []string{Taken}}},
	},
}
