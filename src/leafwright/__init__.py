"""Leafwright."""
