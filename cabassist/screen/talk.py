"""What was said and answered: lines of a reply as widgets, and the step in hand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from cabassist.screen.look import Look, kind_of, option_of, signal_of

if TYPE_CHECKING:
    from cabassist.dialogue.types import Mind, Reply, Walk

KEPT = 30
"""Exchanges kept on the screen; the journal keeps all."""
SAID_ROWS = 2
"""Rows of what was said that stay above an answer longer than the room."""


class Say(Message):
    """Something was pressed that stands for words."""

    def __init__(self, text: str) -> None:
        self.text = text
        super().__init__()


class Touch(Static, can_focus=True):
    """A button big enough for a finger in a glove; it says its words."""

    BINDINGS: ClassVar[list[BindingType]] = [("enter,space", "press", "Press")]

    def __init__(self, label: Content, words: str, *, id: str | None = None, classes: str = "") -> None:
        super().__init__(label, id=id, classes=f"touch {classes}")
        self.words = words

    def press(self) -> None:
        """Say its words."""
        self.post_message(Say(self.words))

    def action_press(self) -> None:
        """Enter or space on it."""
        self.press()

    def on_click(self) -> None:
        """A finger or the mouse; what is typed next still goes into the line."""
        self.press()
        self.screen.query_one("#say").focus()


class Caution(Horizontal):
    """A caution: signal word with its sign in a panel of its own, framed, then what can happen."""

    def __init__(self, line: str, look: Look) -> None:
        word, text = signal_of(line)
        super().__init__(classes=f"caution {word.lower()}")
        sign = f"{look.signs.alert} " if word != "NOTICE" else ""
        self._word = Static(look.content(f" {sign}{word} "), classes="word")
        self._text = Static(look.content(text), classes="text")

    def compose(self) -> ComposeResult:
        """Word, then text."""
        yield self._word
        yield self._text


def line_widget(line: str, look: Look) -> Static | Caution | Touch:
    """A line of a reply as it is shown."""
    kind = kind_of(line)
    if kind == "caution":
        return Caution(line, look)
    if kind == "option":
        number, words = option_of(line)
        label = Content.assemble((f" {number} ", "bold reverse"), " ", look.content(words))
        return Touch(label, number, classes="option")
    return Static(look.content(line.strip() if kind == "detail" else line), classes=f"line {kind}")


class Exchange(Vertical):
    """One thing said, and its answer."""

    def __init__(self, said: str, lines: Sequence[str], look: Look, kind: str, note: str = "") -> None:
        super().__init__(classes=f"exchange {kind}")
        self._said, self._lines, self._look, self._note = said, lines, look, note

    def compose(self) -> ComposeResult:
        """A note, the words, then the answer's lines."""
        if self._note:
            yield Static(self._look.content(f"# {self._note}"), classes="line hint")
        if self._said:
            yield Static(self._look.content(f"{self._look.signs.mark} {self._said[:2000]}"), classes="said")
        for line in self._lines:
            yield line_widget(line, self._look)

    @property
    def said_rows(self) -> int:
        """Rows above the answer, as they are laid out."""
        above = self.children[: bool(self._note) + bool(self._said)]
        return sum(widget.outer_size.height for widget in above)

    def past(self) -> Static:
        """The same as one text. Laying out costs the same for every widget, in sight or not."""
        look = self._look
        parts = [look.content(f"# {self._note}")] if self._note else []
        if self._said:
            parts.append(look.content(f"{look.signs.mark} {self._said[:2000]}", "italic"))
        for line in self._lines:
            if kind_of(line) == "caution":
                word, text = signal_of(line)
                parts.append(Content.assemble((f" {word} ", "bold reverse"), " ", look.content(text, "bold")))
            else:
                parts.append(look.content(line))
        return Static(Content("\n").join(parts), classes="exchange past")


class Talk(VerticalScroll):
    """The conversation; the latest answer begins at the top when it is longer than the room."""

    can_focus = False

    def __init__(self, look: Look) -> None:
        super().__init__(id="talk")
        self._look = look
        self._turned = False

    async def add(self, said: str, lines: Sequence[str], kind: str = "answer", note: str = "") -> None:
        """Show one more exchange."""
        exchange = Exchange(said, lines, self._look, kind, note)
        exchange.add_class("latest")
        with self.app.batch_update():
            for older in self.query(Exchange):
                older.remove_class("latest")
            await self.mount(exchange)
        self.follow()
        self.call_after_refresh(self._fold)

    async def _fold(self) -> None:
        """What was said before becomes one text, once the answer stands: it would have had to wait for that."""
        with self.app.batch_update():
            for older in [
                child for child in self.children if isinstance(child, Exchange) and not child.has_class("latest")
            ]:
                await self.mount(older.past(), before=older)
                await older.remove()
            if len(self.children) > KEPT:
                await self.children[0].remove()
        self.call_after_refresh(self._place)

    def follow(self) -> None:
        """Bring the latest exchange into view: its end when all of it fits, else its beginning."""
        self._turned = False
        self.call_after_refresh(self._place)

    def _place(self) -> None:
        if self._turned or not self.children:
            return
        last = self.children[-1]
        over = last.outer_size.height - self.size.height
        if over <= 0:
            self.scroll_end(animate=False, force=True, immediate=True)
            return
        top = last.virtual_region.y
        if isinstance(last, Exchange):  # much that was said must not push the answer out
            top += min(over, max(0, last.said_rows - SAID_ROWS))
        self.scroll_to(y=top, animate=False, force=True, immediate=True)

    def turn_page(self, way: int) -> None:
        """A page up or down; from then on nothing moves until something is said."""
        self._turned = True
        self.scroll_relative(y=way * max(1, self.size.height - 1), animate=False)

    def on_resize(self) -> None:
        """Another size, another place to scroll to."""
        self.call_after_refresh(self._place)


class Laid(Message):
    """The step in hand is laid out: its rows can be counted."""


class Sentence(Static):
    """A step's own sentence."""

    def on_resize(self) -> None:
        """It has its place now, or another one."""
        self.post_message(Laid())


class StepPanel(Vertical):
    """The step in hand, always in sight."""

    def __init__(self, look: Look) -> None:
        super().__init__(id="step")
        self._look = look
        self._shown: tuple[Walk, tuple[str, ...]] | None = None
        self.cut = False

    def compose(self) -> ComposeResult:
        """Title with the step's number, then its lines."""
        yield Static(id="step-title")
        yield Vertical(id="step-lines")

    async def show(self, walk: Walk | None, lines: tuple[str, ...], mind: Mind) -> None:
        """Show the step of this walk, with the lines of `step_lines`; no walk, no panel."""
        self.display = walk is not None
        if walk is None or self._shown == (walk, lines):
            return
        self._shown = (walk, lines)
        self.set_class(walk.topic in mind.knowledge.hazards, "hazard")
        self._title(mind.knowledge.title(walk.topic), walk)
        inside = self.query_one("#step-lines", Vertical)
        with self.app.batch_update():  # never a moment without a step
            await inside.remove_children()
            await inside.mount(*(self._line(line) for line in lines))
        self.scroll_home(animate=False)

    def rows_wanted(self) -> tuple[int, int]:
        """Rows for all of it, and for its title, the cautions and the step's own sentence, as they are laid out."""
        if not self.display:
            return 0, 0
        inside, frame = self.query_one("#step-lines", Vertical), self.gutter.height
        title = self.query_one("#step-title", Static).outer_size.height
        sentence = [widget for widget in inside.children if widget.has_class("step")]
        least = sentence[0].region.bottom - inside.region.y if sentence else inside.outer_size.height
        return frame + title + inside.outer_size.height, frame + title + least

    def take(self, rows: int, wanted: int) -> None:
        """Take so many rows at most; when that is not all, it says how to hear the rest."""
        self.styles.max_height = rows if wanted else None
        self.cut = rows < wanted
        self.border_title = "More: say repeat" if self.cut else ""

    def stands_at(self, walk: Walk | None) -> bool:
        """Whether this step of this walk is what it shows."""
        shown = self._shown[0] if self.display and self._shown else None
        return walk is not None and shown is not None and (shown.topic, shown.at) == (walk.topic, walk.at)

    def _title(self, title: str, walk: Walk) -> None:
        look, total = self._look, len(walk.plan)
        bar = look.signs.full * walk.number + look.signs.empty * (total - walk.number)
        state = "  PAUSED: say resume" if walk.paused else ""
        self.query_one("#step-title", Static).update(
            Content.assemble(
                (f" STEP {walk.number} of {total} ", "bold reverse"), " ", look.content(title, "bold"), " ", bar, (state, "bold")
            )
        )  # fmt: skip

    def _line(self, line: str) -> Static | Caution | Touch:
        if kind_of(line) == "step":
            return Sentence(self._look.content(line.split(": ", 1)[1]), classes="line step")
        return line_widget(line, self._look)


def step_lines(walk: Walk | None, mind: Mind) -> tuple[str, ...]:
    """The lines that stand in the step's panel for this walk."""
    from cabassist.dialogue import phrases

    return tuple(phrases.step_lines(mind.knowledge.procedure(walk.topic), walk, mind)) if walk else ()


def beside_step(reply: Reply, standing: Sequence[str], unmoved: bool = False) -> list[str]:
    """The lines of a reply that do not stand in the step's panel already.

    When nothing else was answered and the panel stood like that before, it is all said again: else nothing would be seen.
    """
    from cabassist.dialogue import phrases

    hidden = {*standing, phrases.STEER_HINT} if standing else set()
    beside = [line for line in reply.show if line not in hidden]
    if unmoved and not any(line.strip() for line in beside):
        return [line for line in reply.show if line != phrases.STEER_HINT]
    return beside
