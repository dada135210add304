"""The session: a reducer from (state, what was said, now) to (state, reply, events).

May import everything above it: `units`, `coach`, `procedures`, `language`, `estimate`, `journal`.
"""
