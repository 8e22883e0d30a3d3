"""What is shown, ready to be placed: the Bench, the Studio, messages, warnings, cards.

Pure: a room and a moment in, texts out. Reports and the edges may come in.
"""
