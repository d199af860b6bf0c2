"""The bench sheet on paper: one model in words, set as PDF and as HTML."""
