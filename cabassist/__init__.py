"""An offline assistant for the drivers of a converted winter coach."""

import os

# Before numpy is imported: on sentences, sharing the work among threads takes longer than the work, above all on a busy machine.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__version__ = "0.1.0"
