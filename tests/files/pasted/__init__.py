"""The labelled set of pasted recipes, its judge and its report."""
