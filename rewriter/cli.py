"""The command line: a table of commands, each loaded only when it is called, and the exit statuses.

0 done; 1 done, but something must be looked at and ``--strict`` was given; 2 unusable input or arguments, with one
line that says what and how to mend it; 3 a fault of the program itself. Standard output holds only the result.
To add a command, add ``rewriter/commands/<name>.py`` with a click command in it, and its row here.

>>> main(["strip", "no-such-file.txt"])
2
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from importlib import import_module

import click

from rewriter import __version__
from rewriter.errors import Unusable
from rewriter.extras import missing

# name: (module under rewriter.commands, the command in it, what it does)
COMMANDS = {
    "annotate": ("annotate", "annotate", "Annotate a recipe for your elevation."),
    "box": ("box", "box", "Keep recipes in a box: clean up, find, bake, take out."),
    "batch": ("batch", "batch", "Annotate a folder or a table of thousands."),
    "compare": ("compare", "compare", "Set the guides side by side for a recipe."),
    "formula": ("formula", "formula", "Show a recipe in baker's percentages, before and after."),
    "next": ("next", "next_step", "Say what to change after a bake that went wrong."),
    "overlay": ("overlay", "overlay", "Annotate a PDF or a photo of a recipe on its own page."),
    "print": ("print", "print_", "Print recipes for your elevation as a PDF, on pages or cards."),
    "read": ("read", "read", "Show as JSON what is read in a recipe."),
    "serve": ("serve", "serve", "Open the page on this machine."),
    "strip": ("strip", "strip", "Take the annotations out again."),
}


class LazyGroup(click.Group):
    """A group that knows its commands by the table and imports one only to run it."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Name every command."""
        return sorted(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import a command, or None where there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        module, name, _ = COMMANDS[cmd_name]
        command = getattr(import_module(f"rewriter.commands.{module}"), name)
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List what each command does without importing it."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, COMMANDS[name][2]) for name in sorted(COMMANDS)])


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="rewriter")
def cli() -> None:
    """Give recipes back word for word, annotated for baking at your elevation."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status. Every complaint is one line on standard error."""
    try:
        status = cli.main(None if arguments is None else list(arguments), prog_name="rewriter", standalone_mode=False)
    except Unusable as error:
        return _complain(str(error))
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.format_message(), err=True)
        return 2
    except click.UsageError as error:
        where = error.ctx.command_path if error.ctx else "rewriter"
        return _complain(f"{error.format_message().rstrip('.')}; see {where} --help")
    except click.ClickException as error:
        return _complain(error.format_message())
    except ModuleNotFoundError as error:
        line = missing(error)
        return _fault() if line is None else _complain(line)
    except (KeyboardInterrupt, click.Abort):
        return 130
    except BrokenPipeError:  # whoever read the result has had enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception:
        return _fault()
    return status if isinstance(status, int) else 0


def _complain(line: str) -> int:
    click.echo(f"rewriter: {' '.join(line.split())}", err=True)
    return 2


def _fault() -> int:
    import traceback

    traceback.print_exc()
    _complain("this is a fault of the program; please report the lines above with the recipe")
    return 3
