"""The weather year: read, checked, mended in the open, and what follows from it."""
