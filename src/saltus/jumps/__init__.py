"""A recording taken apart into its jumps: events, phases, measures and trust."""
