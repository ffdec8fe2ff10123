package water

// mixing is what the window remembers of the batch being mixed.
type mixing struct{}

func (s *Screen) mix() {}
