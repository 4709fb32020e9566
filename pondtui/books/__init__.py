"""What is on disk: pond.toml, the journal, settings. No terminal."""
