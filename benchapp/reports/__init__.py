"""What leaves the studio: HTML, CSV, JSON and iCalendar, as texts ready to write.

It knows the book and the pure rooms, and no screen; the screens and the command
line may come in.
"""
