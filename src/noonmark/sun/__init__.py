"""The sun: where it stands, when it rises, and what it brings on a plane."""
