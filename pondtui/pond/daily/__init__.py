"""The daily round: what was read, and what is due."""
