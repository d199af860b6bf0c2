"""Vessels of one block: what stands in each, and what a step pours where."""
