"""Formulas: lines to grams, grams to composition, before and after cooking."""
