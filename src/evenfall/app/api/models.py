"""What the routes take and give."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, model_validator

Who = Annotated[str, StringConstraints(max_length=80)]
Why = Annotated[str, StringConstraints(max_length=400)]
Path = Annotated[str, StringConstraints(min_length=1, max_length=300)]
JobId = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,60}$")]
Number = Annotated[int, Field(ge=0, le=10**9)]
Data = dict[str, Any]


class Model(BaseModel):
    """A table of the interface; unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", populate_by_name=True)


class Fault(Model):
    """What is wrong: where, what, what was expected, what to do."""

    code: str
    where: str = ""
    what: str
    expected: str = ""
    nearest: str = ""
    do: str = ""
    line: int = Field(default=0, description="Of a file that was sent; 0 where there is none.")


class Refusal(Model):
    """The answer to every request that was refused; ``problems`` are all of them, where several."""

    error: Fault
    problems: list[Fault] = []


class ChangeIn(Model):
    """A value for a path, or that what stands there is taken out; ``[+]`` adds to a list."""

    path: Path
    value: Any = None
    remove: bool = False


class Clash(Refusal):
    """Somebody else changed the job: both values, and where it stands now."""

    yours: list[ChangeIn]
    theirs: list[ChangeIn]
    revision: int
    who: str
    since: list[ChangeIn] = Field(description="All that was changed since the save began.")
    apart: bool = Field(description="Whether the two touch different places.")


class MakeIn(Model):
    """A new job, of a document, or as a copy."""

    name: Annotated[str, StringConstraints(max_length=200)] = ""
    document: Data | None = None
    rates: Data | None = None
    copy_of: JobId | None = Field(default=None, alias="copy")
    who: Who = ""

    @model_validator(mode="after")
    def _one(self) -> MakeIn:
        if self.copy_of is not None and self.document is not None:
            raise ValueError("give a document or the job to copy, not both")
        return self


class EditIn(Model):
    """Changes that began from a revision."""

    began: Number = Field(alias="from")
    changes: Annotated[list[ChangeIn], Field(min_length=1, max_length=500)]
    who: Who = ""
    why: Why = ""


class FromIn(Model):
    """The newest revision, as the person knows it."""

    began: Number = Field(alias="from")
    who: Who = ""


class RestoreIn(FromIn):
    """An earlier revision to take up."""

    to: Number


class ArchiveIn(Model):
    """Whether a job is put away."""

    archived: bool = True


class TryIn(Model):
    """Changes to try; nothing is saved."""

    changes: Annotated[list[ChangeIn], Field(min_length=1, max_length=100)]


class AgreeIn(Model):
    """What somebody agreed to in writing."""

    began: Number = Field(alias="from")
    finding: Annotated[str, StringConstraints(max_length=80)]
    subject: Annotated[str, StringConstraints(max_length=120)]
    who: Annotated[str, StringConstraints(min_length=1, max_length=80)]
    reference: Annotated[str, StringConstraints(min_length=1, max_length=80)] | None = None


class IssueIn(Model):
    """A paper that is handed out."""

    paper: Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9._/-]{0,80}$")]
    who: Who = ""


class ListedOut(Model):
    """A job of the list."""

    id: str
    name: str
    where: str
    revision: int
    made: str
    changed: str
    archived: bool
    invented: bool
    worked_on: str | None
    stops: int | None
    copied_from: str | None


class ListOut(Model):
    """The list of jobs."""

    jobs: list[ListedOut]


class SavedOut(Model):
    """What a save became; ``problems`` say why it cannot be worked, where it cannot."""

    id: str
    revision: int
    problems: list[Fault]


class JobOut(Model):
    """A job as data."""

    id: str
    name: str
    revision: int
    document: Data
    rates: Data | None
    own_rates: bool
    defaults: list[str]
    problems: list[Fault]
    archived: bool
    invented: bool
    on: str


class RevisionOut(Model):
    """One revision."""

    number: int
    parent: int | None
    shows: int
    kind: str
    at: str
    who: str
    why: str
    format: int
    changes: list[Data]


class HistoryOut(Model):
    """All revisions, the newest first."""

    id: str
    revisions: list[RevisionOut]


class PageOut(Model):
    """The whole present state; ``worked`` is the revision that it is of, 0 before the first."""

    id: str
    name: str
    revision: int
    worked: int
    on: str
    problems: list[Fault]
    numbers: Data
    totals: Data
    findings: list[Data]
    drawings: list[str]
    days: list[Data]
    stick: list[Data]
    price: list[Data]
    papers: list[str]


class TriedOut(Model):
    """What some changes would do."""

    before: Data
    after: Data
    moved: Data
    come: list[Data]
    gone: list[Data]


class PaperOut(Model):
    """A paper as it is now."""

    name: str
    bytes: int


class PapersOut(Model):
    """All papers of the newest revision."""

    revision: int
    papers: list[PaperOut]


class IssuedOut(Model):
    """A paper as it was sent."""

    id: int
    paper: str
    revision: int
    at: str
    who: str
    worked_on: str
    worked: str = Field(description="Digest of the worked job that it was made of.")
    hash: str
    bytes: int


class IssuedListOut(Model):
    """All papers that were sent, the last first."""

    issued: list[IssuedOut]


class PhotoOut(Model):
    """A photo of the job."""

    hash: str
    type: str
    bytes: int
    wide: int
    high: int
    about: str
    at: str
    who: str


class PhotosOut(Model):
    """All photos of a job."""

    photos: list[PhotoOut]
