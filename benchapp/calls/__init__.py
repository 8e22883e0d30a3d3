"""How the bench calls across the room: tone, bell and voice, each in its own process.

It knows quantities alone and never what a call means; the screens and the
command line may come in.
"""
