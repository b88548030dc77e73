package project

// each calls f for 0 to n-1 and returns the first error. A browser's program
// has one thread.
func each(n int, f func(int) error) error {
	for i := range n {
		if err := f(i); err != nil {
			return err
		}
	}
	return nil
}
