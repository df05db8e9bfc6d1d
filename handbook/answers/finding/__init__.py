"""Parts of the questions about place: turns, a way in words, corners to tape from."""
