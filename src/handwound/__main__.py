"""``python -m handwound`` is the command line."""

from handwound.faces.cli import main

main()
