"""A slab drawn to scale: its section and cut face as SVG, and in block characters."""
