package auth

// TakeTurns takes every turn of h until free is called.
func TakeTurns(h *Hasher) (free func()) {
	for range cap(h.slots) {
		h.slots <- struct{}{}
	}
	return func() {
		for range cap(h.slots) {
			<-h.slots
		}
	}
}
