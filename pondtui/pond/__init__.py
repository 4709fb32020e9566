"""What a keeper has, does and decides: data and rules over the science. No files, no clock."""
