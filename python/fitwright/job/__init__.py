"""A job: its file, its value, and what it finds."""
