"""Evidence: what the physics says, held against every row of published tables."""
