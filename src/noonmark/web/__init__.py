"""The page's server: one design file, one machine, one thin face (docs/wire.md)."""
