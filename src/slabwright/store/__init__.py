"""What the app keeps: cards, papers and pictures with all that they ever were."""
