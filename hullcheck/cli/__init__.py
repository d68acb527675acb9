"""The commands: read, answer, emit."""
