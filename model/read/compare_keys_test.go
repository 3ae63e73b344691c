package read

func namesOf[T any](fs fields[T]) (names []string) {
	for _, f := range fs {
		names = append(names, f.name)
	}
	return names
}
