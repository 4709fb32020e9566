"""What is said: state to rows, sentences and drawings as text. No terminal, no files."""
