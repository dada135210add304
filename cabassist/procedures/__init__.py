"""Procedures: their model, how they are read from disk, and what the checker holds them to.

May import `units`, `coach` and `errors`.
"""
