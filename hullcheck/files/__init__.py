"""The only place that touches a disk."""
