"""Calculators: one sum of the trade each, asked without a card."""
