package model

import "sync"

// Once is what make finds of a plant, looked for when it is first asked for and kept
// under key, a value of a type of the caller's own. Several may ask at once. A copy of
// a plant shares what is kept.
func Once[T any](p *Plant, key any, make func(*Plant) T) T {
	found, ok := p.memo.Load(key)
	if !ok {
		found, _ = p.memo.LoadOrStore(key, sync.OnceValue(func() T { return make(p) }))
	}
	return found.(func() T)()
}
