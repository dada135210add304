"""Sums that a driver asks for in words: which sum it is, which amount plays which part, and the answer."""
