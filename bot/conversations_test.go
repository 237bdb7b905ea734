package bot

import (
	"strings"
	"testing"
)

// opening leads to the first question.
const opening = `
	> hello
	< enquiry chat of the Tern Lane Workroom
	< the messenger's own servers, which we cannot erase
	< {link}
	< Nothing is kept until you agree.
	[Yes, I agree]
	< 1 of 9. Who will wear the hat?
`

// needed answers all that must be answered, from there.
const needed = `
	[I will, and I am 18 or older]
	< Wearer: I will, and I am 18 or older.
	< What is your name?
	> Odile Quillfeather
	< Name: Odile Quillfeather.
	> odile@quillfeather.example
	< What is the hat for?
	[A wedding]
	< Occasion: A wedding.
	> 12 June 2027
	< Day: 12 June 2027.
	[Up, or short]
	< 7 of 9. How far is it round your head?
	< for example
	> 57
	< Reading 1 of 3.
	> 57,5 cm
	< Reading 2 of 3.
	> 22 1/2"
	< Round the head: 57.2 cm (22 1/2 in), the average of 57.0, 57.5 and 57.2
	< How far is it from the nape up to the crown?
	[Measure me at the consultation]
	< Nape to crown: To be measured at the studio.
	< How far is it from ear to ear, over the crown?
	[Skip this]
	< Ear to ear: left out.
	[I'm not sure]
	< That is all I need.
	< Name: Odile Quillfeather
	< Round the head: 57.2 cm
	< Nothing has been sent yet.
`

const sending = `
	[Send it]
	< Sent.
	< goes to the Tern Lane Workroom
`

func TestConversations(t *testing.T) {
	for name, script := range map[string]string{
		"the whole intake": opening + needed + sending,
		"a child is not measured": opening + `
			[A child, and I am the parent or guardian]
			> Odile Quillfeather
			> +44 1632 960961
			[A garden party]
			[Not fixed yet]
			< That is all I need.
			! Round the head`,
		"an answer is changed by its name": opening + needed + `
			> change the occasion
			< You said: A wedding
			[A garden party]
			> Name
			< You said: Odile Quillfeather
			[Leave it as it is]
			< Occasion: A garden party`,
		"why is asked in words": opening + `
			> Why?
			< worked out for grown heads only
			< Who will wear the hat?`,
		"no to the notice, then yes": `
			> /start
			[No, thank you]
			< Then I keep nothing of yours
			> 57 cm
			< Before I keep anything, I need your yes or no
			> yes
			< Who will wear the hat?`,
		"words instead of buttons": opening + `
			> me
			< Wearer: I will
			> Odile
			> odile@quillfeather.example
			> a wedding
			< Occasion: A wedding.`,
		"a wrong answer is asked again, in short": opening + `
			> perhaps my aunt
			< is not one of the answers here
			< Who will wear the hat?
			! all the other answers are about
			[I will, and I am 18 or older]
			> Odile
			> under the bridge
			< neither an e-mail address nor a telephone number
			< How can the studio reach you?`,
		"back shows the kept answer, which may be left": opening + `
			[I will, and I am 18 or older]
			> Odile
			> back
			< What is your name?
			< You said: Odile
			[Leave it as it is]
			< How can the studio reach you?
			> back
			> Odile Quillfeather
			< Name: Odile Quillfeather.
			< How can the studio reach you?
			> back
			> back
			< Who will wear the hat?
			> back
			< There is nothing before this one.`,
		"an old button corrects that answer and leaves the place": opening + `
			[I will, and I am 18 or older]
			> Odile
			[Another adult, who knows that I am answering]
			< Wearer: Another adult
			< How can the studio reach you?`,
		"an old button of a question that no longer matters": opening + `
			[I will, and I am 18 or older]
			> Odile
			> odile@quillfeather.example
			[A wedding]
			[Not fixed yet]
			[Up, or short]
			[A child, and I am the parent or guardian]
			< That is all I need.
			[Down]
			< That question no longer matters.`,
		"help, stop and go on lose nothing": opening + `
			[I will, and I am 18 or older]
			> help
			< back – show the question before
			< What is your name?
			> /cancel
			< nothing has been sent
			> what now
			< I have stopped asking
			[Go on]
			< What is your name?
			> stop
			> go on
			< What is your name?
			> /dance
			< I did not understand that.
			< What is your name?`,
		"a needed question can't be skipped": opening + `
			> skip
			< cannot be sent
			< Who will wear the hat?
			> send
			< something is still needed`,
		"why": opening + `
			[Why do you ask?]
			< For a child you leave the measuring to the studio
			< Who will wear the hat?`,
		"an answer is changed from the summary": opening + needed + `
			> back
			< Was your hair that way when you measured?
			< You said: I'm not sure
			[Leave it as it is]
			[Change an answer]
			< Which one?
			[Occasion]
			< You said: A wedding
			[An evening out]
			< Occasion: An evening out.
			< That is all I need.`,
		"an extra that is changed leads nowhere else": opening + needed + `
			[Add more]
			> By the lake.
			[Stop asking]
			[Change an answer]
			[About the occasion]
			> In the hills.
			< About the occasion: In the hills.
			< That is all I need.`,
		"more is told before sending": opening + needed + `
			[Add more]
			< each may be skipped
			< Is there more to say about the occasion?
			[Skip this]
			< About the occasion: left out.
			< At what time of day
			[Afternoon]
			> 40
			< Please give one whole number from 1 to 24
			> 6
			< How many hours: 6.
			[Stop asking]
			< I ask no more of these.
			< Time of day: Afternoon
			[Send it]
			< Sent.`,
		"before sending there is no hat to ask after": opening + `
			> where is my hat?
			< no hat so far
			> When is my fitting?
			< has not been sent yet`,
		"after sending": opening + needed + sending + `
			[Where is my hat?]
			< Your enquiry is with the studio
			[When is my fitting?]
			< No date has been set yet
			> send
			< sent already
			> Can it be green?
			< I have passed that on to the Tern Lane Workroom
			[Add more]
			< Is there more to say about the occasion?
			> My sister marries by the lake.
			< At what time of day
			> stop
			< goes to the Tern Lane Workroom`,
	} {
		t.Run(name, func(t *testing.T) { play(t, newMemory(), script) })
	}
}

func TestReadings(t *testing.T) {
	round := opening + strings.SplitAfter(needed, "< for example")[0]
	for name, script := range map[string]string{
		"readings that disagree want a fourth": `
			> 57
			> 57.2
			> 58.6
			< Please lay the tape once more and give a fourth reading.
			< Reading 3 of 4.
			> 57.1
			< Round the head: 57.5 cm`,
		"that is all I can take": `
			> 57
			[That is all I can take]
			< Round the head: 57.0 cm (22 1/2 in), good to ± 1.3 cm (1/2 in).
			< from the nape`,
		"enough without any": `
			> 57
			[Start these readings again]
			< Then from the first reading once more.
			[That is all I can take]
			< There is no reading yet to go by.
			> 57
			< Reading 1 of 3.`,
		"an unlikely head is questioned and kept": `
			> 66
			> 66
			> 66
			[Yes, keep it]
			< Round the head: 66.0 cm
			< from the nape
			[Yes, keep it]
			< That one is settled already.`,
		"one alone that is unlikely": `
			> 66
			[That is all I can take]
			[Yes, keep it]
			< Round the head: 66.0 cm`,
		"two tapes that do not go together are questioned and kept": `
			> 57
			> 57.2
			> 57.1
			> 19
			> 19.1
			> 19
			< and 57.1 cm (22 1/2 in) round the head. On nearly all heads like that
			[Yes, keep it]
			< Nape to crown: 19.0 cm
			< from ear to ear
			[Yes, keep it]
			< That one is settled already.`,
		"two tapes that do not go together, all in one message": `
			> 57; 57.2; 57.1
			> 19; 19.1; 19
			< On nearly all heads like that
			[Start these readings again]
			> 23; 23.1; 23
			< from ear to ear`,
		"a tape changed afterwards is doubted in the summary": `
			> 53; 53; 53
			> 20.7; 20.7; 20.7
			[Skip this]
			[Yes, as on the day]
			! On nearly all heads
			[Change an answer]
			[Round the head]
			> 61; 61; 61
			< That is all I need.
			< and 61.0 cm (24 in) round the head. On nearly all heads like that`,
		"a slip is left out": `
			> 57
			> 57.2
			> 61 cm
			> 57.1
			< far from the others
			[Leave out 61 cm]
			< Round the head: 57.1 cm (22 1/2 in), the average of 57.0, 57.2 and 57.1
			[Leave out 61 cm]
			< not there any more
			< from the nape`,
		"all are left out by beginning again": `
			> 57
			> 57.2
			> 61
			> 57.1
			[Start these readings again]
			> 57
			< Reading 1 of 3.`,
		"a reading that can't be read loses none": `
			> 57
			> rather large
			< A length is a number with its unit
			> 57.2
			< Reading 2 of 3.`,
		"a hat size counts as no reading": `
			> UK 7
			< Hat sizes are coarser than a tape
			! Reading 1
			> 57
			< Reading 1 of 3.`,
		"going back keeps the readings so far": `
			> 57
			> back
			< Will your hair be up or down
			[Leave it as it is]
			> 57.2
			< Reading 2 of 3.`,
	} {
		t.Run(name, func(t *testing.T) { play(t, newMemory(), round+script) })
	}
}
