"""Tearing a sheet edge to edge: plain ways, a bounded search, fewest sheets, a list and a drawing.

Whole numbers of 0.1 mm throughout. `benchapp.reckon.tear` asks; nobody else comes in.
"""
