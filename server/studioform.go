package server

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"perchbook/orders"
)

// weekdays as a working week is read.
var weekdays = []time.Weekday{time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday, time.Saturday, time.Sunday}

func hoursKey(d time.Weekday) string { return fmt.Sprintf("hours-%d", d) }
func minutesKey(kind string) string  { return "minutes-" + kind }
func bufferKey(kind string) string   { return "buffer-" + kind }

// studioKeys names every field of the form.
func studioKeys() []string {
	keys := []string{"name", "place", "reach", "zone", "closed_days", "buffer", "notice", "blocks", "side", "exceptions", "move_hours"}
	for _, d := range weekdays {
		keys = append(keys, hoursKey(d))
	}
	for _, k := range kinds {
		keys = append(keys, minutesKey(k), bufferKey(k))
	}
	return append(keys, materialKeys()...)
}

// studioField is the field beside which the store's problem stands.
func studioField(key string) string {
	switch key {
	case "hours":
		return hoursKey(time.Monday)
	case "minutes":
		return minutesKey(kinds[0])
	case "buffers":
		return bufferKey(kinds[0])
	}
	if slices.Contains(studioKeys(), key) {
		return key
	}
	return "name"
}

// writtenStudio is the settings as they would be typed.
func writtenStudio(st orders.Studio) map[string]string {
	typed := map[string]string{
		"name": st.Name, "place": st.Place, "reach": st.Reach, "zone": st.Zone, "side": st.SideByTradition,
		"buffer": strconv.Itoa(st.BufferMinutes), "notice": strconv.Itoa(st.NoticeHours),
	}
	for _, d := range weekdays {
		typed[hoursKey(d)] = hoursWords(st.Hours, d)
	}
	for _, k := range kinds {
		typed[minutesKey(k)] = strconv.Itoa(st.Minutes[k])
		if own, ok := st.Rules.Buffers[k]; ok {
			typed[bufferKey(k)] = strconv.Itoa(own)
		}
	}
	typed["exceptions"], typed["move_hours"] = exceptionWords(st.Rules.Exceptions), strconv.Itoa(st.Rules.MoveHours)
	days, blocks := closedLines(st.ClosedDays), []string(nil)
	for _, mm := range st.Blocks {
		blocks = append(blocks, shortest(mm/10, 2)+" cm")
	}
	writeMaterials(typed, st.Materials)
	typed["closed_days"], typed["blocks"] = strings.Join(days, "\n"), strings.Join(blocks, "\n")
	return typed
}

func studioForm(typed map[string]string, version int) studioView {
	line := func(key, label, hint string) field {
		return field{Key: key, Label: label, Hint: hint, Value: typed[key]}
	}
	v := studioView{
		Version:    version,
		Name:       line("name", "Name of the studio", "Clients see it on every page."),
		Place:      line("place", "Town", ""),
		Reach:      line("reach", "How clients reach you", "A telephone number or address, shown to them."),
		Zone:       line("zone", "Time zone", "Region and city, such as Europe/London. All hours are kept in it."),
		Closed:     line("closed_days", "Closed days", "One a line, such as 24 December 2026, or from the first to the last: 24 December 2026 – 2 January 2027."),
		Buffer:     line("buffer", "Kept free after each appointment", "Minutes."),
		Notice:     line("notice", "Least notice of a booking", "Hours. You yourself may book sooner."),
		Blocks:     line("blocks", "Blocks you own", "Their width across, one a line, such as 12 cm or 4 3/4 in. Proposals land on one of these; leave it empty to work freehand."),
		Exceptions: line("exceptions", "Days with other hours", "One a line, such as 23 December 2026: 9:00–12:30. They take the place of the weekday’s hours."),
		MoveHours:  line("move_hours", "Clients may move or cancel until", "Hours before it begins. They are told before they book."),
		Side:       line("side", "Side without a wish or a parting", "Traditions differ; choose yours. It is the wearer’s own side."),
	}
	for _, d := range weekdays {
		v.Hours = append(v.Hours, line(hoursKey(d), d.String(), ""))
	}
	for _, k := range kinds {
		v.Minutes = append(v.Minutes, line(minutesKey(k), title(k), "Minutes."))
		v.Buffers = append(v.Buffers, line(bufferKey(k), "Kept free after a "+k, "Minutes; empty for the usual."))
	}
	for _, side := range []string{"right", "left"} {
		v.Sides = append(v.Sides, stageChoice{side, "Her own " + side, typed["side"] == side})
	}
	v.Blocks.Heard = heardBlocks(typed["blocks"])
	v.materialsForm(typed)
	return v
}

// blame puts each problem beside its field, in the order of the page.
func (v *studioView) blame(problems map[string]string) {
	fields := []*field{&v.Name, &v.Place, &v.Reach, &v.Zone}
	for i := range v.Hours {
		fields = append(fields, &v.Hours[i])
	}
	fields = append(fields, &v.Closed, &v.Exceptions, &v.Buffer, &v.Notice, &v.MoveHours)
	for i := range v.Buffers {
		fields = append(fields, &v.Buffers[i])
	}
	for i := range v.Minutes {
		fields = append(fields, &v.Minutes[i])
	}
	for _, f := range append(append(fields, &v.Blocks, &v.Side), v.materialLines()...) {
		f.Problem = problems[f.Key]
		v.Problems = append(v.Problems, mends(*f)...)
	}
}

// readStudio reads the form, and says by field what it could not read.
func readStudio(typed map[string]string, now time.Time) (orders.Studio, map[string]string) {
	st := orders.Studio{
		Name: typed["name"], Place: typed["place"], Reach: typed["reach"], Zone: typed["zone"],
		SideByTradition: typed["side"], Minutes: map[string]int{},
	}
	problems := map[string]string{}
	note := func(key, problem string) {
		if problem != "" {
			problems[key] = problem
		}
	}
	if st.Name == "" {
		note("name", "Give the studio a name; clients see it on every page.")
	}
	for _, key := range []string{"name", "place", "reach"} {
		if utf8.RuneCountInString(typed[key]) > 200 {
			note(key, "Keep this under 200 letters.")
		}
	}
	if _, err := time.LoadLocation(st.Zone); err != nil || st.Zone == "" || st.Zone == "Local" {
		note("zone", "That is no time zone known here. Write region and city, such as Europe/London.")
	}
	for _, d := range weekdays {
		hours, problem := readHours(d, typed[hoursKey(d)])
		st.Hours = append(st.Hours, hours...)
		note(hoursKey(d), named(d.String(), problem))
	}
	var problem string
	st.ClosedDays, problem = readClosed(typed["closed_days"])
	note("closed_days", problem)
	st.Rules, problem = readRules(typed, note)
	note("exceptions", problem)
	st.Blocks, problem = readBlocks(typed["blocks"], now)
	note("blocks", problem)
	st.BufferMinutes, problem = readWhole(typed["buffer"], 0, 240, "minutes")
	note("buffer", named("Kept free", problem))
	st.NoticeHours, problem = readWhole(typed["notice"], 0, 1440, "hours")
	note("notice", named("Least notice", problem))
	for _, k := range kinds {
		st.Minutes[k], problem = readWhole(typed[minutesKey(k)], 5, 480, "minutes")
		note(minutesKey(k), named(title(k), problem))
	}
	if st.SideByTradition != "left" && st.SideByTradition != "right" {
		note("side", "Choose left or right.")
	}
	st.Materials = readMaterials(typed, now, note)
	return st, problems
}

// named says whose problem it is; the list on top of the page stands away from the field.
func named(field, problem string) string {
	if problem == "" {
		return ""
	}
	return field + ": " + strings.ToLower(problem[:1]) + problem[1:]
}

func readWhole(typed string, least, most int, unit string) (int, string) {
	x, ok := plainNumber(typed)
	if n := int(x); ok && float64(n) == x && n >= least && n <= most {
		return n, ""
	}
	return 0, fmt.Sprintf("Write a whole number of %s, from %d to %d.", unit, least, most)
}

var (
	span   = regexp.MustCompile(`^(\d{1,2})(?:[:.h](\d{2}))?\s*(?:-|–|—|−|to|until)\s*(\d{1,2})(?:[:.h](\d{2}))?$`)
	spaces = regexp.MustCompile(`[,;\n]|\band\b`)
)

const hoursHelp = "Write opening and closing such as 9:00–17:00, with a comma before a second stretch; leave it empty when closed."

// readHours reads "9:00–12:30, 13:30–17" for one weekday; nothing is closed.
func readHours(day time.Weekday, typed string) ([]orders.Hours, string) {
	if t := strings.ToLower(typed); t == "" || t == "closed" || t == "–" || t == "-" {
		return nil, ""
	}
	var hours []orders.Hours
	for _, part := range spaces.Split(strings.ToLower(typed), -1) {
		m := span.FindStringSubmatch(strings.TrimSpace(part))
		if m == nil {
			return nil, hoursHelp
		}
		h := orders.Hours{Day: day, Opens: minuteOf(m[1], m[2]), Shuts: minuteOf(m[3], m[4])}
		if h.Opens >= h.Shuts || h.Shuts > 24*60 || len(hours) > 0 && h.Opens < hours[len(hours)-1].Shuts {
			return nil, "These hours run backwards, overlap, or go past midnight. " + hoursHelp
		}
		hours = append(hours, h)
	}
	return hours, ""
}

// minuteOf is the minute of the day, or one far past midnight when the clock has no such time.
func minuteOf(hour, minute string) int {
	h, _ := strconv.Atoi(hour)
	m, _ := strconv.Atoi(minute) // "" is the full hour
	if m > 59 {
		return 100 * 60
	}
	return h*60 + m
}

var block = orders.Question{Key: "blocks", Short: "Block", Kind: orders.Length, Min: 40, Max: 300}

// heardBlocks are the blocks as they were understood, those that were.
func heardBlocks(typed string) string {
	var heard []string
	for _, line := range lines(typed) {
		if h := block.Echo(line).String(); h != "" {
			heard = append(heard, h)
		}
	}
	return strings.Join(heard, "; ")
}

func readBlocks(typed string, now time.Time) ([]float64, string) {
	var blocks []float64
	for _, line := range lines(typed) {
		f, mm := readLength(block, line, now)
		if f.Problem != "" {
			return nil, f.Problem + " Write each block on a line of its own."
		}
		blocks = append(blocks, mm)
	}
	slices.Sort(blocks)
	return slices.Compact(blocks), ""
}

// lines are the lines that hold something; a semicolon ends one too.
func lines(text string) []string {
	var list []string
	for _, l := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == ';' }) {
		if l = strings.TrimSpace(l); l != "" {
			list = append(list, l)
		}
	}
	return list
}
