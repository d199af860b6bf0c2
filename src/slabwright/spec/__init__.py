"""A slab worked out: from what the card says to figures and findings."""
