"""Kitchen quantities at the border: numbers, units, and what they come to."""
