"""The app in the browser: one module per page, over the same core as the terminal."""
