"""What is on the screen: the Textual app. No rules, no formulas."""
