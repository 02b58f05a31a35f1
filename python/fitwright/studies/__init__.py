"""What follows when a job's inputs change: studies, sweeps, worst cases, reuse."""
