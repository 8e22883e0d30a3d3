"""The demo: an invented studio's year, printed by a simulated printer through the real workshop.

An edge: it joins rooms, and chance is allowed here. Nothing in it writes an entry
by hand; what stands in the book is what the decider made of the printer's doings.
"""
