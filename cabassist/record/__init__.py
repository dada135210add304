"""The record that the job needs: defects, upkeep, duty status, missing kit, rounds and the hand-over.

Everything here is a view of events: entries are only ever added, and the present is worked out from them. Pure; may
import `units`, `coach`, `errors`, `procedures`, `language`, `estimate` and `journal`.
"""
