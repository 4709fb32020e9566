"""What must never be lost: kills, faults of the disk, torn files, many writers, odd clocks."""
