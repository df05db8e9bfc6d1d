"""What the handbook says: answers and facts composed into typed content, with no markup.

The types are in `content`. The makers of pages fill them; `handbook.output` turns them into
PDF, phone pages and tags. Nothing on this floor knows how any of it looks.
"""
