"""Cutting a slab: grids, wedges, trim and what the knife takes."""
