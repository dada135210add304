"""The Textual application for cab and parking lot. It decides nothing: all goes through `Session`.

May import everything but `cli`; only `cli` imports it.
"""
