"""What stands on a label, a ticket or a card, and where it stands on paper."""
