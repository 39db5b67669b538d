"""The page: a local server and what it says."""
