"""Entries: their shape, their kinds, their streams, and what can be said of their moments.

Every room that writes or reads entries may come in; it knows no other room.
"""
