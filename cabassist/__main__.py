"""`python -m cabassist`."""

from cabassist.cli import main

main()
