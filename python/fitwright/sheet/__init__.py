"""The three documents of a job: bench sheet, strip-down sheet, annex; as HTML and as PDF."""
