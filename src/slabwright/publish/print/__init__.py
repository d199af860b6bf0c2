"""Labels on paper: labels, sheets of them, counter tickets, allergen cards, as PDF."""
