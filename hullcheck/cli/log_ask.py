"""What is missing is asked for at a terminal; where there is none it is named and refused."""

import sys
from collections.abc import Callable
from typing import TypeVar

import click

Answer = TypeVar("Answer")


def at_a_terminal() -> bool:
    """Return whether somebody can be asked."""
    return sys.stdin is not None and sys.stdin.isatty()


def asked(
    given: Answer | None, question: str, read: Callable[[str], Answer], *, option: str, needs: str
) -> Answer:
    """Return what was given, or what somebody at the terminal answers.

    Parameters
    ----------
    given : object or None
        The option's value.
    question : str
        In plain words, with the unit.
    read : callable
        Makes a value of an answer; its ValueError is told, and the question put again.
    option, needs : str
        What is missing where nobody can be asked, and what it stands for.
    """
    if given is not None:
        return given
    if not at_a_terminal():
        raise click.UsageError(f"{option} is missing: {needs}. There is no terminal to ask at.")
    while True:
        answer = _answer(question)
        if not answer.strip():
            _say(f"It is needed: {needs}.")
            continue
        try:
            return read(answer)
        except ValueError as problem:
            _say(f"{problem}.")


def asked_if_any(
    given: Answer | None, question: str, read: Callable[[str], Answer]
) -> Answer | None:
    """Return what was given or is answered; None for an empty answer or where nobody is there."""
    if given is not None or not at_a_terminal():
        return given
    while True:
        answer = _answer(question)
        if not answer.strip():
            return None
        try:
            return read(answer)
        except ValueError as problem:
            _say(f"{problem}.")


def _answer(question: str) -> str:
    """Return the line that is typed after a question."""
    click.echo(f"{question} ", nl=False, err=True)
    return input()


def _say(why: str) -> None:
    """Say why an answer will not do."""
    click.echo(f"{why[:1].upper()}{why[1:]}", err=True)
