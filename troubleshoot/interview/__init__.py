"""The flow of an interview as data, and its keeping."""
