"""The front step: python -m slabwright."""

from slabwright.cli.main import main

if __name__ == "__main__":
    main()
