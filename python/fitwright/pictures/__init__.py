"""Half-sections of stacks and tools, to scale."""
