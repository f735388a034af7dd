"""Ray-traced photographs of turnings, with exact truth beside them."""
