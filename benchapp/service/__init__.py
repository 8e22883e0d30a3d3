"""Where deciding, appending and folding meet: for sessions, and for editions and stacks.

It knows the book and the pure rooms; only the edges may come in.
"""
