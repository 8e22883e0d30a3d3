"""benchapp: runs the printing day of people who print etchings by hand."""

__version__ = "0.1.0"
