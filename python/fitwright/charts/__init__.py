"""Charts from plain data; they know no job."""
