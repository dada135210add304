"""Pure calculations, one module a subject. Arguments in, an `Estimate` out; no clock, file or database.

May import `units` only. Inside, plain SI floats; at the door, pint quantities whose dimension is checked.
"""
