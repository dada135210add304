"""LOST FILE - its author must write it again, and may replace this notice freely.

The helper building cold, power, battery, fuel, tires, wheels, brakes, driving_hours, triangles and co created a
file of this name at 07:44:47 (25 Nov) and so overwrote the door.py another helper had written at about 07:44:29
together with wording.py. It was not in git and could not be recovered. The overwriting helper's own file is now
`quantities.py`; nothing of its uses this one.
"""

raise ImportError(
    "cabassist/estimate/door.py was overwritten by mistake by the helper building cold.py, power.py etc.; "
    "its author must write it again (see the notice at its head)"
)
