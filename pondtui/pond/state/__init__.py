"""The fold: what the entries say that the pond and its barrels are now."""
