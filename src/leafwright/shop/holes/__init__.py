"""Holes and plates: every hole of every part, with its tool and what it is for."""
