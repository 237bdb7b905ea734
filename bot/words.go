package bot

import (
	"strings"

	"perchbook/orders"
)

// verbs are the buttons that belong to a question but are no value of it, "verb:key".
var verbs = map[string]string{
	"ask":    "Change",
	"skip":   "Skip this",
	"keep":   "Yes, keep it",
	"enough": "That is all I can take",
	"out":    "Leave out",
	"again":  "Start these readings again",
	"done":   "Done",
	"leave":  "Leave it as it is",
	"why":    "Why do you ask?",
	"no":     "No, thank you",
	"erase":  "Erase this note",
}

// A command is something she may write at any place, in one of a few plain words.
type command struct {
	name  string   // the first of its words, and its button "do:name"
	label string   // on the button
	also  []string // other words for it
	help  string   // what it does; "" leaves it out of the help
	do    func(*talk)
}

// commands are all there are, in the order of the help.
func commands() []command {
	return []command{
		{"start", "Start", []string{"begin", "hello", "hi"}, "", (*talk).start},
		{"back", "Back", []string{"go back"}, "show the question before, with your answer", (*talk).back},
		{"skip", "Skip this", []string{"not now"}, "leave a question that may be left", (*talk).skip},
		{"summary", "Show my answers", []string{"my answers"}, "everything you have told me so far", (*talk).answers},
		{"change", "Change an answer", []string{"change an answer"}, "pick an answer to change", (*talk).pick},
		{"send", "Send it", []string{"send it"}, "send your enquiry to the studio", (*talk).send},
		{"add more", "Add more", []string{"more"}, "tell more than is needed", (*talk).more},
		{"where is my hat", "Where is my hat?", []string{"hat", "my hat", "where is it"}, "how far it is", (*talk).whereabouts},
		{"fitting", "When is my fitting?", []string{"when is my fitting", "my fitting", "fitting date", "appointment"}, "the date, once there is one", (*talk).fitting},
		{"cancel", "Stop asking", []string{"stop"}, "stop asking; nothing you have said is lost", (*talk).pause},
		{"go on", "Go on", []string{"continue", "resume"}, "ask on where we were", (*talk).start},
		{"help", "Help", []string{"?"}, "", (*talk).help},
	}
}

// find returns the command of which said, without a leading stroke and in any case, is a word.
func find(said string) (command, bool) {
	said = bare(strings.TrimPrefix(strings.TrimSpace(said), "/"))
	for _, c := range commands() {
		if said == c.name {
			return c, true
		}
		for _, w := range c.also {
			if said == w {
				return c, true
			}
		}
	}
	return command{}, false
}

// bare is what was said without capitals, outer space and closing marks; "?" alone stays.
func bare(said string) string {
	said = strings.Join(strings.Fields(strings.ToLower(said)), " ")
	if cut := strings.TrimRight(said, ".!? "); cut != "" {
		return cut
	}
	return said
}

func doButton(name string) orders.Option {
	c, _ := find(name)
	return orders.Option{Value: "do:" + c.name, Label: c.label}
}

func verbButton(verb string, q orders.Question) orders.Option {
	return orders.Option{Value: verb + ":" + q.Key, Label: verbs[verb]}
}

// paragraphs joins what is not empty with an empty line between.
func paragraphs(parts ...string) string {
	var full []string
	for _, p := range parts {
		if p != "" {
			full = append(full, p)
		}
	}
	return strings.Join(full, "\n\n")
}

const pausedText = "I have stopped asking. What you have told me is kept and nothing has been sent. " +
	"Write \"go on\" when you would like to continue."

// An Other is something that came instead of words.
type Other string

// What may come instead of words.
const (
	Picture Other = "picture"
	Sound   Other = "sound" // spoken messages and music
	Moving  Other = "video"
	Sticker Other = "sticker"
	Place   Other = "place"
	Person  Other = "contact"
	File    Other = "file"
	Unknown Other = "unknown"
)

var others = map[Other]string{
	Picture: "Thank you, but pictures are safer on your own page, where they can be erased for good: {link}",
	Sound:   "I cannot listen, I am sorry. Please write it in a few words.",
	Moving:  "I cannot watch films, I am sorry. Photographs can be added on your own page: {link}",
	Sticker: "A pleasing picture, but I only understand words and buttons.",
	Place:   "Thank you, a place is not needed here. If your hat is to go by post, your address can be written on your page: {link}",
	Person:  "Please do not send me other people's details; I have not kept them. Write your own in words when I ask.",
	File:    "I cannot open files here. Photographs can be added on your own page: {link}",
	Unknown: "I could not read that. Please use words or the buttons.",
}
