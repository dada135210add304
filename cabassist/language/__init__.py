"""Text in, meaning out: normalising, numbers, readings, matching, routing.

May import `units`, `coach`, `errors` and `procedures`. Everything here is a function of its arguments.
"""
