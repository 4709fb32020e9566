"""The pond's description: its values, its reading from a table, its contradictions."""
