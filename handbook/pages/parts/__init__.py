"""The parts of the book behind the emergency pages, one module a subject.

Each subject gives its part from the house; where the record says nothing about it there is no
part, and `holes` says that it is not recorded. `phrases` and `order` are what they share.
"""
