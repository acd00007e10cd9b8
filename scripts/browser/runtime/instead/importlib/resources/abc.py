"""Stands in, as the package does."""
