"""The patient reader: recipes as people have them, read into the same card."""
