"""Kitchen quantities at the border: numbers as written, units, and what they come to."""
