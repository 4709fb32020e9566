"""The command line: one verb a file over the same rules as the screen."""
