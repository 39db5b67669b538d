"""Results said in words: sentences rendered in the reader's language and units."""
