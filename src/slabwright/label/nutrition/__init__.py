"""Nutrition: what 100 g and a piece hold, and how it is declared."""
