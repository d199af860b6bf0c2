"""The terminal's door: commands that parse, call the core once and print."""
