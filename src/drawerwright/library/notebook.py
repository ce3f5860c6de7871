"""How results show themselves in a notebook: tables as HTML, every text escaped."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from drawerwright.basics.findings import Finding


def html_table(title: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table with a caption; what a cell holds is text, never markup."""
    head = "".join(f"<th>{escape(cell)}</th>" for cell in heads)
    body = "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in row)}</tr>" for row in rows)
    return f"<table><caption>{escape(title)}</caption><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def html_paragraph(text: str, *, strong: bool = False) -> str:
    """A paragraph of text."""
    return f"<p><strong>{escape(text)}</strong></p>" if strong else f"<p>{escape(text)}</p>"


def html_findings(findings: Iterable[Finding]) -> str:
    """Findings, what stops first; nothing where there are none."""
    listed = sorted(findings, key=lambda finding: not finding.stops)
    items = "".join(
        f"<li><strong>{escape(str(each.severity))}</strong> {escape(f'{each.where}: {each.text} {each.remedy}')}</li>"
        for each in listed
    )
    return f"<ul>{items}</ul>" if items else ""
