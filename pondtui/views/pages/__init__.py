"""The manual: the same pages for `pondtui help TOPIC` and for the help inside the app."""
