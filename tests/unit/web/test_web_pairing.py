"""Codes: good once, for ten minutes, and not to be guessed."""

from __future__ import annotations

from drawerwright.web.server.pairing import CODE_SECONDS, GUESS_SECONDS, Answer, PairingCodes


class Clock:
    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


def test_code_expires() -> None:
    clock = Clock()
    codes = PairingCodes(clock)
    code = codes.issue()
    clock.now += CODE_SECONDS
    assert codes.try_code(code, "a") is Answer.WRONG


def test_new_code_voids_the_one_before() -> None:
    codes = PairingCodes(Clock())
    old, new = codes.issue(), codes.issue()
    assert codes.try_code(old, "a") is Answer.WRONG
    assert codes.try_code(new, "a") is Answer.ACCEPTED
    assert codes.try_code(new, "a") is Answer.WRONG


def test_wrong_codes_shut_out_their_own_address_alone_and_for_a_minute() -> None:
    clock = Clock()
    codes = PairingCodes(clock)
    code = codes.issue()
    assert [codes.try_code("x", "a") for _ in range(6)] == [Answer.WRONG] * 5 + [Answer.TOO_MANY]
    for address in "bcdefgh":
        for _ in range(5):
            assert codes.try_code("x", address) is Answer.WRONG
    assert codes.try_code(code, "a") is Answer.TOO_MANY
    assert codes.try_code(code, "z") is Answer.ACCEPTED, "35 wrong codes of others do not shut it out"
    code = codes.issue()
    clock.now += GUESS_SECONDS
    assert codes.try_code(code, "a") is Answer.ACCEPTED


def test_nothing_is_accepted_before_a_code_is_issued() -> None:
    assert PairingCodes(Clock()).try_code("", "a") is Answer.WRONG
