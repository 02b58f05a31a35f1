"""What a user meets: a job with its questions as methods, and the panel."""
