"""The list of ingredients: its order, its names, its shares, and the rules of each."""
