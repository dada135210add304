"""The shape of a procedure. The sentences in `description` are the trainer's guide."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

System = Literal["water", "waste", "propane", "heat", "power", "body", "loading", "kit", "road", "trip"]
Kind = Literal["procedure", "hazard"]
Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
"""ANSI Z535.6: DANGER will kill or maim if not avoided, WARNING could, CAUTION could injure
slightly, NOTICE is about damage to property."""

READING_NAMES = (
    "fresh",
    "waste",
    "propane",
    "house_battery",
    "diesel",
    "def",
    "outside_temp",
    "inside_temp",
    "shore_voltage",
    "tire_pressure",
    "air_pressure",
    "odometer",
    "passengers",
    "co_ppm",
    "generator_hours",
)
"""What a reading can be of, in the words of the scripting contract."""

SourceKind = Literal["published", "common practice", "from memory"]


class Item(BaseModel):
    """Base of everything read from a knowledge file: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class Caution(Item):
    """One caution, shown before the step it belongs to."""

    signal: Signal = Field(description="DANGER, WARNING, CAUTION or NOTICE.")
    text: str = Field(min_length=8, max_length=220, description="What can happen and how to avoid it.")


class Wait(Item):
    """A wait that becomes a timer."""

    minutes: Annotated[float, Field(gt=0, le=1440)] | Annotated[str, Field(pattern=r"^[a-z_]+\.[a-z_]+$")] = Field(
        description="Minutes, or the name of a coach fact that is a time."
    )
    reason: str = Field(min_length=3, max_length=80, description="What is waited for, after 'wait for'.")
    announce: str = Field(min_length=5, max_length=120, description="What is said when the time is over.")


class Step(Item):
    """One action in one breath."""

    do: str = Field(min_length=4, max_length=220, description="The action, in the imperative.")
    why: str = Field(default="", max_length=240, description="Why it matters, for 'why'.")
    done_when: str = Field(default="", max_length=180, description="How the driver knows it is done.")
    cautions: list[Caution] = Field(default=[], max_length=3, description="Cautions said before it.")
    wait: Wait | None = Field(default=None, description="A wait after the action.")
    reading: str = Field(default="", description="A reading this step asks for.")
    ends_when: Literal["", "full", "empty"] = Field(
        default="", description="A reading at this level finishes the step by itself."
    )
    only_when: list[str] = Field(default=[], max_length=4, description="All must hold, else it is left out.")

    @model_validator(mode="after")
    def _reading_is_known(self) -> Step:
        if self.reading and self.reading not in READING_NAMES:
            raise ValueError(f"reading '{self.reading}' is not one of {', '.join(READING_NAMES)}")
        if self.ends_when and not self.reading:
            raise ValueError("ends_when needs a reading")
        return self


class Source(Item):
    """Where a procedure's facts come from."""

    name: str = Field(min_length=3, max_length=160, description="Title and paragraph, or the practice.")
    kind: SourceKind = Field(description="published, common practice, or from memory.")


class Procedure(Item):
    """A procedure or a hazard."""

    id: str = Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", description="Same as the file's name.")
    system: System = Field(description="Same as the folder's name.")
    kind: Kind = Field(description="procedure or hazard.")
    title: str = Field(min_length=4, max_length=70, description="Names the act or the sign, no full stop.")
    summary: str = Field(min_length=10, max_length=160, description="What it gets done, one sentence.")
    escape: str = Field(default="", max_length=160, description="Hazards: what to do at once, one breath.")
    safe_question: str = Field(
        default="", max_length=120, description="Hazards: asked when it is left early; Is everybody out? when empty."
    )
    asks: list[str] = Field(min_length=15, description="How drivers really ask for it.")
    needs: list[str] = Field(default=[], description="Carried kit, by id.")
    cautions: list[Caution] = Field(default=[], max_length=5, description="Cautions before the first step.")
    steps: list[Step] = Field(min_length=2, max_length=30, description="The steps, in order.")
    never: list[str] = Field(min_length=1, description="What must never be done.")
    stop_when: list[str] = Field(min_length=1, description="When to stop.")
    call: str = Field(min_length=4, max_length=160, description="Whom to call then.")
    then: list[str] = Field(default=[], description="Procedures to do next, by id.")
    related: list[str] = Field(default=[], description="Related procedures, by id.")
    only_after: list[str] = Field(
        default=[], description="Hazards: related procedures that are put off until it is over, by id."
    )
    offers: list[str] = Field(default=[], description="Calculations to offer, by name.")
    sources: list[Source] = Field(min_length=1, description="Where the facts come from.")

    @model_validator(mode="after")
    def _hazards_have_an_escape(self) -> Procedure:
        if (self.kind == "hazard") != bool(self.escape):
            raise ValueError("a hazard needs an escape line, and only a hazard has one")
        if self.kind != "hazard" and (self.safe_question or self.only_after):
            raise ValueError("only a hazard has safe_question and only_after")
        if stray := set(self.only_after) - set(self.related):
            raise ValueError(f"only_after names what is not related: {', '.join(sorted(stray))}")
        return self
