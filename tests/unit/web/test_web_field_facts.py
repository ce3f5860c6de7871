"""What a folded group states, in one line."""

from __future__ import annotations

from drawerwright.job.file.single_drawers_model import SINGLE_DRAWERS
from drawerwright.web.fields.field_facts import stated_facts
from drawerwright.web.fields.single_drawer_fields import single_drawer_fields
from drawerwright.web.reader.preferences import Preferences


def test_all_that_is_said_of_a_single_drawer_stands_together() -> None:
    bank = {SINGLE_DRAWERS: [{"number": 4, "load": 22, "use": "heavy"}, {"number": 2, "joint": "rebate"}]}
    facts = stated_facts(single_drawer_fields(bank, ()), bank, Preferences())
    told = [f"{fact.label} {fact.value}".replace("\N{NO-BREAK SPACE}", " ") for fact in facts]
    assert told == ["Drawer 4: 22 kg, heavy use", "Drawer 2: rebate: glued and pinned"]
