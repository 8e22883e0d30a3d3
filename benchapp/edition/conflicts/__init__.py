"""What two books that went apart say differently of one edition: found, named, to be decided."""
