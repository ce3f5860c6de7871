"""What is said where a router table is fed another way than is usual."""

from __future__ import annotations

from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.joints.table import USUAL_FEED, Feed


def feed_words(feed: Feed) -> tuple[Phrase, ...]:
    """The way to feed, and what to check; nothing where it is the usual one."""
    if feed is USUAL_FEED:
        return ()
    return (
        phrase(
            "Feed {way}, as drawn. Do this only if the cutting edges move towards the wood as it comes in: look, with "
            "the machine unplugged, before the first pass.",
            way=feed.words,
        ),
    )
