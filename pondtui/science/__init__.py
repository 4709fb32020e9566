"""What nature does: pure functions on plain floats in fixed units, one topic a file."""
