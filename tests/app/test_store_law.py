"""Whatever is done to a store, it agrees with a plain model: edits, undo, copies, kills."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, invariant, rule

from evenfall.app.store.kept import Behind, Contents
from evenfall.app.store.store import Store
from evenfall.errors import InvalidInput

Data = dict[str, Any]


class Plain:
    """What a job should be: its states, and two stacks."""

    def __init__(self, first: Data) -> None:
        self.states, self.done, self.undone = [first], [first], list[Data]()

    def edit(self, data: Data) -> None:
        self.states.append(data)
        self.done.append(data)
        self.undone.clear()

    def undo(self) -> bool:
        if len(self.done) == 1:
            return False
        self.undone.append(self.done.pop())
        self.states.append(self.done[-1])
        return True

    def redo(self) -> bool:
        if not self.undone:
            return False
        self.done.append(self.undone.pop())
        self.states.append(self.done[-1])
        return True


class StoreMachine(RuleBasedStateMachine):
    jobs = Bundle("jobs")

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.store = Store(self.folder)
        self.plain: dict[str, Plain] = {}

    def teardown(self) -> None:
        self.store.close()
        shutil.rmtree(self.folder)

    @rule(target=jobs, n=st.integers(0, 5))
    def make(self, n: int) -> str:
        data = {"format": 1, "n": n}
        job = self.store.make(Contents(data), "law").job
        self.plain[job] = Plain(data)
        return job

    @rule(target=jobs, job=jobs)
    def copy(self, job: str) -> str:
        other = self.store.copy(job, "law").job
        self.plain[other] = Plain(self.plain[job].states[-1])
        return other

    @rule(job=jobs, n=st.integers(0, 5), words=st.text(max_size=4))
    def edit(self, job: str, n: int, words: str) -> None:
        data = {"format": 1, "n": n, "words": words}
        self.store.save(job, len(self.plain[job].states), Contents(data), "law")
        self.plain[job].edit(data)

    @rule(job=jobs, back=st.integers(1, 9))
    def edit_late(self, job: str, back: int) -> None:
        began = len(self.plain[job].states) - back
        with pytest.raises(Behind):
            self.store.save(job, began, Contents({"lost": 1}), "law")

    @rule(job=jobs)
    def undo(self, job: str) -> None:
        self._walk(job, "undo")

    @rule(job=jobs)
    def redo(self, job: str) -> None:
        self._walk(job, "redo")

    def _walk(self, job: str, deed: str) -> None:
        began = len(self.plain[job].states)
        if getattr(self.plain[job], deed)():
            getattr(self.store, deed)(job, began, "law")
        else:
            with pytest.raises(InvalidInput):
                getattr(self.store, deed)(job, began, "law")

    @rule(job=jobs, share=st.floats(0, 1))
    def restore(self, job: str, share: float) -> None:
        plain = self.plain[job]
        to = round(share * (len(plain.states) - 1))
        self.store.restore(job, len(plain.states), to + 1, "law")
        plain.edit(plain.states[to])

    @rule(job=jobs, away=st.booleans())
    def archive(self, job: str, away: bool) -> None:
        self.store.archive(job, away)
        assert (job in {j.id for j in self.store.jobs(archived=away)}) is True

    @rule()
    def kill(self) -> None:
        """Leave the file as a killed process does: its log unmerged, nothing said."""
        copied = Path(tempfile.mkdtemp())
        shutil.copytree(self.folder, copied, dirs_exist_ok=True)
        self.store.close()
        shutil.rmtree(self.folder)
        self.folder, self.store = copied, Store(copied)

    @invariant()
    def all_history_is_there(self) -> None:
        for job, plain in self.plain.items():
            found = [self.store.contents(r).document for r in self.store.history(job)]
            assert found[::-1] == plain.states


StoreMachine.TestCase.settings = settings(max_examples=8, stateful_step_count=20)
test_the_store_agrees_with_a_plain_model = StoreMachine.TestCase
