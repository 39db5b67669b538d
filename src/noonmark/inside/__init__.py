"""The light inside a room: what its surfaces see of each other, and where light ends."""
