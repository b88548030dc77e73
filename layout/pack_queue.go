package layout

// queue is a binary heap that gives out the least item first. before must order
// all items strictly, so that the result does not depend on the heap's shape.
type queue[T any] struct {
	items  []T
	before func(a, b *T) bool
}

func (q *queue[T]) push(item T) {
	q.items = append(q.items, item)
	for i := len(q.items) - 1; i > 0; {
		parent := (i - 1) / 2
		if !q.before(&q.items[i], &q.items[parent]) {
			return
		}
		q.items[i], q.items[parent] = q.items[parent], q.items[i]
		i = parent
	}
}

// pop takes the least item of a queue that is not empty.
func (q *queue[T]) pop() T {
	top := q.items[0]
	last := len(q.items) - 1
	q.items[0] = q.items[last]
	q.items = q.items[:last]
	for i := 0; ; {
		child := 2*i + 1
		if child >= last {
			return top
		}
		if child+1 < last && q.before(&q.items[child+1], &q.items[child]) {
			child++
		}
		if !q.before(&q.items[child], &q.items[i]) {
			return top
		}
		q.items[i], q.items[child] = q.items[child], q.items[i]
		i = child
	}
}
