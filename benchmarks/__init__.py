"""How long things take: `python -m benchmarks`, or `make bench`. Nothing here fails."""
