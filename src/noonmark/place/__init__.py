"""The place: its coordinates, its clock, the names of its sides."""
