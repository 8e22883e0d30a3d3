"""What is kept beside the book in case it is lost: text mirrors, and backups made by themselves.

Nothing here is in a day's way: it is written when a session has closed, when nothing has happened
for a while, or when the book is put away.
"""
