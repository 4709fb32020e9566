"""While the keeper is away: visits, the care sheet, and the sitter's report back."""
