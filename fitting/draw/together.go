package draw

import "perchbook/fitting"

// Pose is a hat and where it is looked at from.
type Pose struct {
	Hat  fitting.Solution
	From Camera
}

// Together draws poses to stand side by side, each an SVG document, in their
// order: all on paper of one width and one height, so that shown equally large a
// millimetre is as long on each, and level views have the head at one height. It
// fails as [View] does; no poses give no documents.
func Together(poses []Pose, o Options) ([][]byte, error) {
	views := make([]*view, len(poses))
	for i, p := range poses {
		v, err := newView(p.Hat, p.From, o)
		if err != nil {
			return nil, err
		}
		views[i] = v
	}
	shareWidth(views)
	sharePaper(views)
	documents := make([][]byte, len(views))
	for i, v := range views {
		documents[i] = v.svg()
	}
	return documents, nil
}

// shareWidth writes the words anew where they would be too small on the widest
// paper. That may widen it again; a little more is given each time, so that it
// comes to an end.
func shareWidth(views []*view) {
	const tries, spare = 12, 1.02
	for range tries {
		width, settled := 0.0, true
		for _, v := range views {
			width = max(width, v.frame.width())
		}
		for _, v := range views {
			if v.text < enough*v.letters()*width {
				v.writeSizes(spare * width)
				settled = false
			}
		}
		if settled {
			return
		}
	}
}

// sharePaper gives all the same paper.
func sharePaper(views []*view) {
	level, size := empty(), point{}
	for _, v := range views {
		if v.from.up.Z == 1 {
			level = level.around(point{0, v.frame.top}, point{0, v.frame.bottom})
		}
	}
	for _, v := range views {
		if v.from.up.Z == 1 {
			v.frame.top, v.frame.bottom = level.top, level.bottom
		}
		size = point{max(size.x, v.frame.width()), max(size.y, v.frame.height())}
	}
	for _, v := range views {
		v.frame = v.frame.padded(size.x, size.y)
	}
}
