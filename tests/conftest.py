"""Settings for every test."""

import os

from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None, print_blob=True)
settings.register_profile("deep", max_examples=2000, deadline=None)
settings.load_profile(os.environ.get("SLABWRIGHT_PROPERTIES", "steady"))
