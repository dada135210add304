"""Sheets over the conversation: help, pages to look at, forms to enter."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.events import Key, Paste
from textual.screen import Screen
from textual.widgets import Input, Static

from cabassist.errors import CabassistError
from cabassist.screen.fields import Field, fields_of, value_field
from cabassist.screen.help import HELP
from cabassist.screen.look import Look
from cabassist.screen.pages import PAGES, View

if TYPE_CHECKING:
    from cabassist.screen.app import CabApp


class Button(Static, can_focus=True):
    """A button that runs an action of its sheet."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter,space", "press", "Press")]

    def __init__(self, label: str, action: str, look: Look, classes: str = "button", id: str | None = None) -> None:
        super().__init__(look.content(label), classes=classes, id=id)
        self._action = action

    async def action_press(self) -> None:
        """Do it."""
        await self.screen.run_action(self._action)

    async def on_click(self) -> None:
        """A finger or the mouse."""
        await self.action_press()


class Sheet(Screen[None]):
    """A full sheet with a scrolling page and buttons below; Escape closes it."""

    AUTO_FOCUS = ""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "close", "Close"),
        Binding("pageup", "page(-1)", "Up", priority=True),
        Binding("pagedown", "page(1)", "Down", priority=True),
        Binding("up", "line(-1)", "Up"),
        Binding("down", "line(1)", "Down"),
    ]

    def __init__(self, look: Look) -> None:
        super().__init__(classes="sheet")
        self.look = look

    @property
    def cab(self) -> CabApp:
        """The application."""
        return cast("CabApp", self.app)

    def action_close(self) -> None:
        """Back to the conversation."""
        self.dismiss()

    def action_page(self, way: int) -> None:
        """A page up or down."""
        page = self.query_one("#page", VerticalScroll)
        page.scroll_relative(y=way * max(1, page.size.height - 1), animate=False)

    def action_line(self, way: int) -> None:
        """A line up or down."""
        self.query_one("#page", VerticalScroll).scroll_relative(y=way, animate=False)


class HelpSheet(Sheet):
    """How to ask, the keys, the signal words, the road."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self._typed = False

    def compose(self) -> ComposeResult:
        """The text, then how to close it."""
        with VerticalScroll(id="page", can_focus=False):
            yield Static(self.look.content(HELP), id="page-text")
        with Horizontal(id="buttons"):
            yield Button("Close  Esc", "close", self.look)

    def on_key(self, event: Key) -> None:
        """Who begins to type has read enough: back to the line, and nothing of what comes in the same burst is lost."""
        line, letter = self.cab.line, event.character if event.is_printable else None
        if not self._typed and (letter is None or letter.isspace()):
            if letter is not None:
                event.stop()
            return
        if letter is not None:
            line.insert_text_at_cursor(letter)
        elif event.key == "enter":
            said = line.value
            line.clear()  # before the letters that follow
            self.cab.say(said)
        elif event.key == "backspace":
            line.action_delete_left()
        else:
            return
        event.stop()
        self._to_the_line()

    def on_paste(self, event: Paste) -> None:
        """What is pasted is for the line as well."""
        if event.text:
            event.stop()
            self.cab.line.insert_text_at_cursor(event.text.splitlines()[0])
            self._to_the_line()

    def _to_the_line(self) -> None:
        self._typed = True
        self.cab.call_later(self.cab.line.focus)
        if self.is_current:
            self.dismiss()


class LookSheet(Sheet):
    """The pages, one at a time."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "turn(-1)", "Page before"),
        Binding("right", "turn(1)", "Next page"),
        Binding("f9", "turn(1)", "Next page"),
        Binding("e", "enter_new", "Enter"),
    ]

    def __init__(self, look: Look, page: str) -> None:
        super().__init__(look)
        self.page = page

    def compose(self) -> ComposeResult:
        """Names of the pages, the page, then what can be done."""
        with Horizontal(id="tabs"):
            for name, page in PAGES.items():
                yield Button(page.title, f"open('{name}')", self.look, classes="tab", id=f"tab-{name}")
        with VerticalScroll(id="page", can_focus=False):
            yield Static(id="page-text")
        with Horizontal(id="buttons"):
            yield Button("Enter something  E", "enter_new", self.look, id="enter")
            yield Button("Next page  F9", "turn(1)", self.look)
            yield Button("Close  Esc", "close", self.look)

    def on_mount(self) -> None:
        """The page that was asked for."""
        self.action_open(self.page)

    def on_resize(self) -> None:
        """Another width, other plots."""
        self.draw()

    def on_screen_resume(self) -> None:
        """Back from a form: something may be new."""
        self.draw()

    def draw(self) -> None:
        """The page as it stands."""
        cab = self.cab
        if cab.session is None:
            return
        session = cab.session
        width = max(40, self.size.width - 6)
        view = View(session.state, session.mind, cab.board, cab.clock(), self.look, width, cab.trip, cab.trip_ahead)
        self.query_one("#page-text", Static).update(PAGES[self.page].text(view))

    def action_open(self, page: str) -> None:
        """Show another page."""
        self.page = page
        for tab in self.query(".tab"):
            tab.set_class(tab.id == f"tab-{page}", "open")
        self.query_one("#enter").display = bool(PAGES[page].form)
        self.query_one("#page", VerticalScroll).scroll_home(animate=False)
        if page == "trip":
            self.cab.look_ahead(self.draw)
        self.draw()

    def action_turn(self, way: int) -> None:
        """The next page, or the one before."""
        names = list(PAGES)
        self.action_open(names[(names.index(self.page) + way) % len(names)])

    def action_enter_new(self) -> None:
        """Open the page's form; a trip that is not there yet is begun."""
        cab, form = self.cab, PAGES[self.page].form
        if not form or cab.session is None:
            return
        if form == "trip" and cab.trip is None:
            cab.begin_trip(self.draw)
        elif form == "trip" and cab.trip is not None:
            field = value_field(cab.trip, "aboard = 14")
            self.app.push_screen(FormSheet(self.look, (field,), cab.keep_trip))
        else:
            keep = cab.keep_profile if form == "coach" else None
            self.app.push_screen(FormSheet(self.look, fields_of(form, cab.session.mind), keep))


class FieldRow(Vertical):
    """A field with its name, its line, and what stands in it means or what is allowed."""

    def __init__(self, field: Field, look: Look) -> None:
        super().__init__(classes="field")
        self.field, self._look = field, look

    def compose(self) -> ComposeResult:
        """Name and line, then the verdict."""
        with Horizontal(classes="row"):
            yield Static(self._look.content(self.field.label), classes="label")
            yield Input(id=f"field-{self.field.name}")
        yield Static(self._look.content(f"Allowed: {self.field.allowed}"), classes="verdict")

    @property
    def text(self) -> str:
        """What stands in the line."""
        return self.query_one(Input).value.strip()

    def check(self) -> bool:
        """Whether it can be used; says what it means or what is allowed. An empty line is left out."""
        verdict = self.query_one(".verdict", Static)
        if not self.text:
            self.remove_class("wrong")
            verdict.update(self._look.content(f"Allowed: {self.field.allowed}"))
            return True
        found = self.field.check(self.text)
        self.set_class(not found.ok, "wrong")
        verdict.update(self._look.content(f"{'OK: ' if found.ok else 'NOT YET: '}{found.words}"))
        return found.ok


class FormSheet(Sheet):
    """A form; what is filled in is said to the session, or kept in a file, when all of it can be used."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+s,f2", "enter", "Enter")]

    def __init__(self, look: Look, fields: Sequence[Field], keep: Callable[[str], None] | None = None) -> None:
        super().__init__(look)
        self._fields, self._keep = fields, keep

    def compose(self) -> ComposeResult:
        """The fields, then what can be done."""
        with VerticalScroll(id="page", can_focus=False):
            for field in self._fields:
                yield FieldRow(field, self.look)
        with Horizontal(id="buttons"):
            yield Button("Enter  F2", "enter", self.look)
            yield Button("Close  Esc", "close", self.look)

    def on_mount(self) -> None:
        """Ready to type."""
        self.query(Input).first().focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Checked while it is typed."""
        for row in self.query(FieldRow):
            if row.query_one(Input) is event.input:
                row.check()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter in the last line enters all, else goes to the next."""
        rows = list(self.query(FieldRow))
        if event.input is rows[-1].query_one(Input):
            self.action_enter()
        else:
            self.focus_next(Input)

    def action_enter(self) -> None:
        """Say what is filled in, when all of it can be used; else go to the first line that cannot."""
        rows = [row for row in self.query(FieldRow) if row.text]
        wrong = [row for row in rows if not row.check()]
        if wrong or not rows:
            (wrong or list(self.query(FieldRow)))[0].query_one(Input).focus()
            return
        try:
            for row in rows:
                (self._keep or self.cab.say)(row.field.says(row.text))
        except (CabassistError, ValueError) as error:
            self.app.notify(self.look.text(str(error)), markup=False, severity="warning")
            return
        self.dismiss()
