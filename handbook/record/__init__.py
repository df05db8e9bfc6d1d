"""What a house file may say, and how it is read: grammar, marks, and errors with their place."""
