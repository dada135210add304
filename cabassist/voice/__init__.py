"""Hearing and speaking: microphone, recognisers, and answers said aloud.

A rim of the house: it may import the dialogue and everything below, and nothing below imports it. `spoken` and `words`
are pure; devices, engines and child processes are behind small protocols, so that every test runs without sound.
"""
