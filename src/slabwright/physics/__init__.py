"""Physics: published relations of heat and water, each with its source and range."""
