"""Moist air, surface films and leakage."""
