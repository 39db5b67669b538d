"""Reductions of hourly arrays: energy, temperatures, fuel; no new physics."""
