"""What ingredients cost, from packs and prices."""
