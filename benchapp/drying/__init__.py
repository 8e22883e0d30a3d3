"""Sheets under boards: stacks, their changes, when they are dry, what calls.

Pure. It knows how the edition names sheets; sessions, views and the edges may come in.
"""
