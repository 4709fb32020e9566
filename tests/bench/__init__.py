"""Speed, measured: `python -m tests.bench` prints each figure beside what it is held against."""
