"""What help says: how to ask, the keys, what the signal words mean, and why the screen goes quiet on the road."""

from __future__ import annotations

HELP = """\
ASK in your own words: how do I dump the waste tank? It smells of gas. Where is the torque wrench?
TELL readings: waste at forty percent. Outside bottle a quarter, minus twelve out.
STEER: next, back, repeat, why, how many left, skip, pause, resume, stop, start over, undo.
A danger is answered first, whatever else is going on.

KEYS
  Enter   say what you typed            Tab, Shift+Tab   go to the buttons; Enter presses
  F2 next   F3 back   F4 repeat   F5 why   F6 pause   F7 stop
  F8      the coach rolls, or is parked
  F9      look and enter: supplies, readings, trip, duty, defects, upkeep, coach
  F10     microphone on, off
  Ctrl+T  day or night colors           Ctrl+P           find a procedure or a command
  PgUp, PgDn  the conversation          Esc              back to typing; cancels long work
  Ctrl+Q  leave (everything said is kept)
Every button can be clicked or touched. Every command can be typed or said as well.

SIGNAL WORDS (ANSI Z535.6)
  DANGER   will kill or badly hurt you if you do not avoid it
  WARNING  could kill or badly hurt you
  CAUTION  could hurt you a little
  NOTICE   things may break; nobody gets hurt

ON THE ROAD
Say: we are rolling. Or press F8, or set your duty status to driving. Then typing is locked and the screen shows one
short line; answers are spoken and take 12 seconds at most; procedures wait until you say: we are parked. A danger told
to the microphone is answered all the same. Without a microphone (F10) nothing is heard while rolling, dangers neither:
stop in a safe place, press F8, then type.
Why: a driver may not text (49 CFR 392.80) or hold a phone (49 CFR 392.82), not even when stopped in traffic. One press
of a button in reach is no holding (49 CFR 390.5). A look away from the road should last 2 seconds at most, and all
looks of a task 12 seconds together (NHTSA visual-manual guidelines, 78 FR 24817, 2013): so 6 words at most on the
screen, at 180 words a minute, and 30 spoken, at 150. Laws change: check that they are current.

THE TERMINAL WAS CLOSED? Start again: you are offered to go on at your step, and timers still run to their time.

Not a substitute for local codes, the makers' manuals and licensed technicians. In an emergency call 911 first.
"""
