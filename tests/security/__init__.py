"""Text that wants to be obeyed, files that never end, paths that lead out: none of it works."""
