"""Allergens: what an ingredient brings, down through its parts; what must be asked."""
