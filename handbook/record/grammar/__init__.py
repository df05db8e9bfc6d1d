"""What a house file may say: one module a system, joined in `record.Record`.

From these models come the reading, the JSON Schema for editors and the reference pages.
"""
