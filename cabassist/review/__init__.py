"""The trainer's room: recorded sessions read again, what needs work, what mends it, and what drivers have learned.

May import every room but the command line, the screen and the voice; nothing but the command line and the screen imports it.
"""
