"""The small words and number ranges that job and rates share; each range is a typing slip's net."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints


class Record(BaseModel):
    """A table of a file: unknown keys are refused, values never change."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


Name = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]{0,39}$")]
"""A short name without spaces, such as ``back-door``; it becomes an id."""

CornerName = Annotated[str, StringConstraints(pattern=r"^[A-Za-z][A-Za-z0-9]{0,3}$")]
_CORNER = r"[A-Za-z][A-Za-z0-9]{0,3}"
Between = Annotated[str, StringConstraints(pattern=f"^{_CORNER}-{_CORNER}$")]
"""Two corners, such as ``A-B``."""

_PART = r"(@[a-z0-9-]{1,20})?(/[A-Za-z0-9-]{1,20})?"
TaskName = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9-]{0,39}" + _PART + "$")]
"""A kind of work, or one part of it: ``strip-felt``, ``strip-felt@2``."""

Words = Annotated[str, StringConstraints(min_length=1, max_length=400)]

Metres = Annotated[float, Field(gt=0, le=100)]
SquareMetres = Annotated[float, Field(gt=0, le=20_000)]
MetresFrom0 = Annotated[float, Field(ge=0, le=100)]
Millimetres = Annotated[float, Field(gt=0, le=5000)]
MillimetresFrom0 = Annotated[float, Field(ge=0, le=5000)]
WholeMillimetres = Annotated[int, Field(gt=0, le=100_000)]
PullOut = Annotated[float, Field(gt=0, le=20_000)]
Percent = Annotated[float, Field(ge=0, le=100)]
Pence = Annotated[int, Field(ge=0, le=100_000_000)]
Positive = Annotated[float, Field(gt=0, le=1_000_000)]
Conductivity = Annotated[float, Field(gt=0.005, le=5)]
Kilometres = Annotated[float, Field(ge=0, le=1000)]

Nation = Literal["england", "wales", "scotland", "northern_ireland"]
"""Whose rules apply."""
