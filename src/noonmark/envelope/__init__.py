"""Opaque parts: layers to U-values and modes, and the slab on the ground."""
