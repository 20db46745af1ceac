package circuit

func (k *checker) supply() {}
func (k *checker) drains() {}
