"""The reader of cards: one parser for file, standard input and editor."""
