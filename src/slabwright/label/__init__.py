"""The label: what a slab is declared to hold, by the rules of where it is sold."""
