"""What is shown: drawings of a slab, on screen, on paper and in a terminal."""
