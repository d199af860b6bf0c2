"""Works out layered tray bakes: from a card to a specification."""

__version__ = "0.1.0"
