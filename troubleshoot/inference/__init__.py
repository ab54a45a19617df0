"""Forward chaining, ranking of causes and choice of the next question."""
