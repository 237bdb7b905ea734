package fitting

func cautions(in Input, t tapes, r Result) []Note {
	return []Note{}
}
