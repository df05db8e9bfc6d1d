"""YAML as a tree of text that knows where each part was written.

The general-purpose loaders accept a key twice, turn `12:30` into 750 and `no` into false, and
forget places. Here every scalar stays the text that it is, and what a house file has no use for
(tags, merge keys, several documents) is refused with its place. What can be gone on from is
collected, so that one reading reports everything.

Events are typed as Any where their marks and tags are used: parsed ones always have them, while
the type stubs leave them open.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import Any

import yaml

from handbook.record import no_break
from handbook.record.marks import MarkedDict, MarkedList, MarkedStr, Tree
from handbook.record.mishaps import mishap
from handbook.record.open_quote import swallowing
from handbook.record.problems import NOWHERE, Mark, Problem, RecordError, nearest, with_lines

Parser = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""The parser in C; the one in Python, some ten times slower, only where that is missing."""

MOST_DEPTH = 30
MOST_ALIASES = 1_000
MOST_NODES = 100_000

_LOST_WORDS = re.compile(r"\s+(#[^\s#].*)")


def tree_of(text: str, file: str) -> Tree:
    """Read one YAML document from clean text (see `source.clean`) as a tree of text.

    Raises RecordError with every problem found.
    """
    builder = _Builder(file, text.split("\n"))
    try:
        for event in yaml.parse(text, Loader=Parser):
            builder.take(event)
            if builder.full:
                break
    except yaml.YAMLError as error:
        made = builder.open_quote or mishap(error, file, builder.lines)
        # What a `#` took from a line leaves its bracket open: only the `#` is told.
        if made.mark.line not in {problem.mark.line for problem in builder.problems}:
            builder.problems.append(made)
    if builder.tree is None and not builder.problems:
        builder.refuse(Mark(file, 1, 1), "nothing is written in this file", "start with `house:`")
    if builder.tree is None or builder.problems:
        raise RecordError(with_lines(builder.problems, text))
    return builder.tree


@dataclass
class _Frame:
    """A list or mapping that is still open; `node` is None where it was refused."""

    node: MarkedList | MarkedDict | None
    anchor: str | None
    is_mapping: bool
    is_key: bool
    nodes: int = 1
    has_key: bool = False
    key: str | None = None
    key_mark: Mark | None = None


@dataclass
class _Builder:
    """Builds the tree from parser events, without recursion, so that depth cannot hurt it."""

    file: str
    lines: list[str]
    tree: Tree | None = None
    full: bool = False
    problems: list[Problem] = field(default_factory=list)
    open_quote: Problem | None = None
    """What is told in place of a parser's error: the first quote that swallowed other lines."""
    _open: list[_Frame] = field(default_factory=list)
    _anchors: dict[str, tuple[Tree, int] | None] = field(default_factory=dict)
    _aliases: int = 0
    _nodes: int = 0

    def take(self, event: yaml.Event) -> None:
        """Add what one parser event says."""
        if isinstance(event, yaml.ScalarEvent):
            self._scalar(event)
        elif isinstance(event, yaml.CollectionStartEvent):
            self._start(event)
        elif isinstance(event, yaml.CollectionEndEvent):
            self._end()
        elif isinstance(event, yaml.AliasEvent):
            self._alias(event)
        elif isinstance(event, yaml.DocumentStartEvent) and self.tree is not None:
            self.full = True
            self.refuse(
                self._mark(event),
                "a second document starts here",
                "a house is one document; take out the line `---`",
            )

    def refuse(self, mark: Mark, message: str, hint: str) -> None:
        """Note a problem and go on."""
        self.problems.append(Problem(mark, message, hint))

    def _mark(self, event: Any) -> Mark:
        start, end = event.start_mark, event.end_mark
        stop = end.column if end.line == start.line else len(self.lines[start.line])
        return Mark(self.file, start.line + 1, start.column + 1, max(1, stop - start.column))

    def _count(self, mark: Mark, nodes: int) -> None:
        self._nodes += nodes
        if self._nodes > MOST_NODES and not self.full:
            self.full = True
            self.refuse(
                mark,
                f"the file says more than {MOST_NODES:,} things, aliases written out",
                "a house needs a few thousand; look for aliases of aliases",
            )

    def _at_key(self) -> bool:
        return bool(self._open) and self._open[-1].is_mapping and not self._open[-1].has_key

    def _in_refused(self) -> bool:
        if not self._open:
            return False
        frame = self._open[-1]
        return frame.node is None or (frame.has_key and frame.key is None)

    def _scalar(self, event: yaml.ScalarEvent) -> None:
        mark = self._mark(event)
        self._count(mark, 1)
        self._refuse_tag(event, mark)
        plain = event.style is None or event.style == ""
        if plain:
            self._refuse_lost_words(event)
        elif not self.open_quote:
            self.open_quote = swallowing(event, self.lines, self.file)
        if self._at_key():
            self._anchor(event.anchor, mark, (MarkedStr(event.value, mark), 1))
            self._key(event.value, plain, mark)
            return
        if plain and not event.value and self._open and self._open[-1].key_mark:
            mark = self._open[-1].key_mark  # nothing is written, so its key is the place to look
        value = MarkedStr(event.value, mark)
        self._anchor(event.anchor, mark, (value, 1))
        self._place(value, 1)

    def _key(self, key: str, plain: bool, mark: Mark) -> None:
        frame, node = self._open[-1], self._open[-1].node
        frame.has_key, frame.key, frame.key_mark = True, None, mark
        if not isinstance(node, MarkedDict):
            return
        if not node.key_marks and (mark.line, mark.column) == (node.mark.line, node.mark.column):
            node.mark = mark  # so that the whole first key is underlined
        if plain and key == "<<":
            self._refuse_key(mark, "the merge key `<<` is not used in a house file")
        elif plain and (found := no_break.in_key(key, mark)):
            self.problems.append(found)
        elif not key.strip():
            self._refuse_key(mark, "there is no key before this colon")
        elif key in node.key_marks:
            first = node.key_marks[key]
            self.refuse(
                mark,
                f"the key `{key}` stands twice in the same group",
                f"{self._dash_missing()}it stands first at line {first.line}, column "
                f"{first.column}; keep one, and put what is under the other there",
            )
        else:
            frame.key = key
            node.key_marks[key] = mark

    def _dash_missing(self) -> str:
        """Say how the next thing of a list begins, where a key that comes again may be its first.

        In braces no dash begins one.
        """
        frame, outer = self._open[-1], self._open[-2:-1]
        in_list = outer and isinstance(outer[0].node, MarkedList)
        if not in_list or not isinstance(frame.node, MarkedDict) or frame.node.braced:
            return ""
        return "if another thing of the list begins here, begin it with `- `; if not: "

    def _refuse_key(self, mark: Mark, message: str) -> None:
        self._open[-1].has_key, self._open[-1].key = True, None
        self.refuse(mark, message, "write `key: value`, the key being a plain word")

    def _start(self, event: Any) -> None:
        mark = replace(self._mark(event), width=1)
        self._count(mark, 1)
        self._refuse_tag(event, mark)
        is_mapping, is_key = isinstance(event, yaml.MappingStartEvent), self._at_key()
        made = MarkedDict if is_mapping else MarkedList
        node: MarkedDict | MarkedList | None = made(mark, bool(event.flow_style))
        if self._in_refused():
            node = None
        elif is_key:
            self._refuse_key(mark, "a key must be a word, not a list or a group of keys")
            node = None
        elif len(self._open) >= MOST_DEPTH:
            self.refuse(
                mark,
                f"things are nested more than {MOST_DEPTH} deep here",
                "a house needs no more than ten; look for a bracket that was left open",
            )
            node = None
        self._anchor(event.anchor, mark, None)
        self._open.append(_Frame(node, event.anchor, is_mapping, is_key))

    def _end(self) -> None:
        frame = self._open.pop()
        if frame.anchor:
            self._anchors[frame.anchor] = (frame.node or MarkedStr("", NOWHERE), frame.nodes)
        if frame.is_key:
            self._open[-1].has_key = True
        else:
            self._place(frame.node, frame.nodes)

    def _place(self, value: Tree | None, nodes: int) -> None:
        """Put a finished value where it belongs; None was refused and is left out."""
        if not self._open:
            self.tree = value
            return
        frame = self._open[-1]
        frame.nodes += nodes
        if value is not None and isinstance(frame.node, MarkedList):
            frame.node.append(value)
        elif value is not None and isinstance(frame.node, MarkedDict) and frame.key is not None:
            frame.node[frame.key] = value
        frame.has_key, frame.key_mark = False, None

    def _anchor(self, anchor: str | None, mark: Mark, known: tuple[Tree, int] | None) -> None:
        if anchor in self._anchors:
            self.refuse(mark, f"`&{anchor}` is marked twice", "give each its own name")
        if anchor:
            self._anchors[anchor] = known

    def _alias(self, event: Any) -> None:
        mark, name = self._mark(event), event.anchor
        if self._at_key():
            self._refuse_key(mark, "a key must be a word, not an alias")
            return
        self._aliases += 1
        known = self._anchors.get(name)
        if self._aliases > MOST_ALIASES:
            self.full = True
            self.refuse(mark, f"there are more than {MOST_ALIASES:,} aliases", "write things out")
        elif name not in self._anchors:
            near = nearest(name, self._anchors)
            hint = f"did you mean `*{near}`? " if near else ""
            hint += "Text that starts with `*` must stand in quotes"
            self.refuse(mark, f"nothing above is marked `&{name}`", hint)
        elif known is None:
            self.refuse(mark, f"`*{name}` stands inside what it stands for", "write it out")
        if known is None or self.full:
            self._place(None, 0)
            return
        self._count(mark, known[1])
        self._place(*known)

    def _refuse_tag(self, event: Any, mark: Mark) -> None:
        if event.tag is not None:
            hint = "text that starts with `!` must stand in quotes"
            self.refuse(mark, f"the tag `{event.tag}` is not used in a house file", hint)

    def _refuse_lost_words(self, event: Any) -> None:
        """Refuse `lot: Lot #12`, of which YAML would silently keep `Lot`."""
        end = event.end_mark
        line = self.lines[end.line] if end.line < len(self.lines) else ""
        lost = _LOST_WORDS.match(line, end.column)
        if lost:
            width = len(lost[1].rstrip())
            self.refuse(
                Mark(self.file, end.line + 1, lost.start(1) + 1, width),
                "everything from this `#` on would be taken as a remark and lost",
                "put the whole text in quotes; or, if it is a remark, a space after the `#`",
            )
