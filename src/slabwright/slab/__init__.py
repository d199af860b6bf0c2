"""The slab: its tin, its layers and how deep they stand."""
