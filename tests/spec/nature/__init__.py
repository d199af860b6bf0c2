"""Tests of what layers are like."""
