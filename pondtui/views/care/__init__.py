"""The care sheet as text, Markdown, a page for a phone and calendar events."""
