"""Widgets of our own; each shows what it is given and decides nothing."""
