"""An offline assistant for the drivers of a converted winter coach."""

__version__ = "0.1.0"
