"""The node tree of a file that was read without a fault: where each key and value begins and ends in its text."""

from __future__ import annotations

import yaml


def node_tree(text: str) -> yaml.Node:
    """The root node; its marks count characters of the text. Only for text that `read_text` has accepted."""
    root = yaml.compose(text, Loader=yaml.CSafeLoader)
    if root is None:
        raise ValueError("the text holds nothing")
    return root


def is_flow(node: yaml.Node) -> bool:
    """Whether a collection stands in brackets on its line."""
    return isinstance(node, yaml.CollectionNode) and bool(node.flow_style)


def start_of(node: yaml.Node) -> int:
    """Position of the node's first character."""
    return int(node.start_mark.index) if node.start_mark else 0


def end_of(node: yaml.Node) -> int:
    """Position after the node's last character; of a block, after that of its last member."""
    if isinstance(node, yaml.CollectionNode) and not is_flow(node) and node.value:
        last = node.value[-1]
        return end_of(last[1] if isinstance(node, yaml.MappingNode) else last)
    return int(node.end_mark.index) if node.end_mark else 0


def comments_of(text: str) -> list[str]:
    """Every comment, in order: what stands between the parser's tokens is blank or comment."""
    found: list[str] = []
    position = 0
    for token in yaml.scan(text, Loader=yaml.CSafeLoader):
        start, end = token.start_mark.index, token.end_mark.index
        found += _comments_in(text[position:start])
        position = max(position, end)
    return found + _comments_in(text[position:])


def _comments_in(between: str) -> list[str]:
    return [line[line.index("#") :].rstrip() for line in between.split("\n") if "#" in line]
