"""Text in, sound values out: cards, kitchen, larder and price files."""
