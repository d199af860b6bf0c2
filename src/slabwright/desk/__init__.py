"""What both doors do: open a kitchen from the store, work out, keep, move."""
