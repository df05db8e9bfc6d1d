"""A house-systems handbook, computed from a record of its as-built plumbing.

from handbook import load

house = load("example_house")
for rung in house.isolate("hall-wc").shown:
    print(rung.close, rung.also_off_said)
"""

from handbook.loading import Asked, load

__all__ = ["Asked", "load"]
