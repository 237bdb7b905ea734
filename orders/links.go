package orders

// links, each a path under Settings.Origin
func (s *Store) DraftLink(d Draft) string           { return "" } // the opaque part: "id.mac"
func (s *Store) CommissionLink(c Commission) string { return "" }
func (s *Store) Origin() string                     { return "" }
