"""What a slab costs and what it earns: packs, prices, hands, energy, tax, margins."""
