"""What looks over several slabs: what to buy, and what a price does to all of them."""
