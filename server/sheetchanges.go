package server

import (
	"cmp"

	"perchbook/fitting"
	"perchbook/orders"
)

// A change is one figure of the hat that reads otherwise at the bench than it did.
type change struct{ Part, Name, From, To string }

// A stand is a hat as it stands on a sheet or on the settle page.
type stand struct {
	figures map[string]float64
	result  fitting.Result
	note    string
}

func standOf(sh orders.FitSheet) (stand, error) {
	_, r, err := sh.Read()
	return stand{sh.Figures, r, sh.Note}, err
}

func standNow(f orders.Fitted) stand {
	return stand{f.Working.Figures, f.Settled.Result, f.Working.Note}
}

// changesBetween lists what reads otherwise in is than in was, in the order of the sheet: figures that
// only she sets, then every size, then the note.
func changesBetween(all []figure, was, is stand) []change {
	var list []change
	add := func(part, name, from, to string) {
		if from != to {
			list = append(list, change{part, name, from, to})
		}
	}
	for _, g := range all {
		if g.Advised == nil {
			add("", g.Name, g.kept(was.figures), g.kept(is.figures))
		}
	}
	before, after := sizesOf(was.result), sizesOf(is.result)
	for i, part := range after {
		for _, name := range sizeNames(before[i], part) {
			from, to := sizeNamed(before[i], name), sizeNamed(part, name)
			if from.Amount == to.Amount {
				add(part.Heading, name, from.Remark, to.Remark)
			} else {
				add(part.Heading, name, orNone(from.Amount.String()), orNone(to.Amount.String()))
			}
		}
	}
	add("", "Note", orNone(was.note), orNone(is.note))
	return list
}

// kept says a figure of hers, or that there is none.
func (g figure) kept(figures map[string]float64) string {
	if x, hers := figures[g.Key]; hers {
		return g.say(x)
	}
	return cmp.Or(g.Unsaid, "as proposed")
}

// sizeNames lists the sizes of a part, those that have gone too: a hat may lose its lip.
func sizeNames(was, is sizes) []string {
	var names []string
	seen := map[string]bool{}
	for _, rows := range [][]size{is.Rows, was.Rows} {
		for _, r := range rows {
			if !seen[r.Name] {
				names, seen[r.Name] = append(names, r.Name), true
			}
		}
	}
	return names
}

// sizeNamed is the size of that name, an empty one when the part has none.
func sizeNamed(part sizes, name string) size {
	for _, r := range part.Rows {
		if r.Name == name {
			return r
		}
	}
	return size{}
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// pending is what has changed since the newest sheet was signed, waiting to become the next one.
type pending struct {
	Sheet   sheetLink
	Changes []change
}

// pendingOf is nil while the hat is as signed, and where nothing new can be settled.
func pendingOf(f file) (*pending, error) {
	if len(f.Sheets) == 0 || f.Stage.Closed() || f.Stage == orders.HandedOver || f.Fitted.Broken != nil {
		return nil, nil
	}
	newest := len(f.Sheets) - 1
	was, err := standOf(f.Sheets[newest])
	if err != nil {
		return nil, err
	}
	p := pending{sheetsOf(f)[newest], changesBetween(figuresOf(f.Fitted), was, standNow(f.Fitted))}
	if len(p.Changes) == 0 {
		return nil, nil
	}
	return &p, nil
}
