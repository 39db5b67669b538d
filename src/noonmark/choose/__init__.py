"""What to choose: dimensions that give what is wished for."""
